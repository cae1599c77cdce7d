import { useEffect, useRef } from "preact/hooks";
import { ACTIONS, keyWords } from "../actions/all";
import { tell } from "../state/store";
import { cameUp } from "./Panel";

const GROUPS = ["Queries", "Panels", "The page", "The desk"] as const;

/** Every key there is, beside the page. */
export function KeyMap() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => cameUp(heading.current), []);
  return (
    <aside class="panel keymap" aria-labelledby="keymap-heading">
      <header class="panel-head">
        <h2 id="keymap-heading" tabIndex={-1} ref={heading}>
          Map of keys
        </h2>
        <button type="button" class="plain" onClick={() => tell({ is: "keys", on: false })}>
          Put away
        </button>
      </header>
      <div class="panel-body">
        <div class="keymap-groups">
          {GROUPS.map((group) => (
            <section key={group}>
              <h3>{group}</h3>
              <dl>
                {ACTIONS.filter((act) => act.group === group && act.key).map((act) => (
                  <div key={act.name}>
                    <dt>
                      <kbd>{keyWords(act.key ?? "")}</kbd>
                    </dt>
                    <dd>{act.label}</dd>
                  </div>
                ))}
              </dl>
            </section>
          ))}
        </div>
        <p class="quiet">In the text the usual keys for undo, copy, find and completion work as well. Tab leaves the text.</p>
      </div>
    </aside>
  );
}
