import { useEffect, useRef } from "preact/hooks";
import { LABELS } from "../actions/panels";
import { chooseSize } from "../session/queries";
import { trying, watcher, words } from "../session/session";
import { mount, unmount } from "../session/text";
import { PANELS } from "../state/state";
import { state } from "../state/store";
import { Act } from "./Act";
import { Apart } from "./Apart";
import { KeyMap } from "./KeyMap";
import { MARK } from "./mark";
import { Panel } from "./Panel";
import { Queries } from "./Queries";
import { Summary } from "./Summary";

/** The page with margins: counts on the left, queries on the right, one panel beside it. */
export function PageView() {
  const { page, read, size, units, panel, light, keys } = state.value;
  const terms = read?.terms ?? "";
  useEffect(() => {
    if (terms) void trying(() => words(terms));
  }, [terms]);
  if (!page) return null;
  return (
    <div class={panel || keys ? "desk with-panel" : "desk"}>
      <header class="head">
        <Act name="shelf" words="Shelf" class="plain shelf-button" />
        <p class="head-title">
          {MARK} <span>{read?.title || page.name}</span>
        </p>
        <Kept />
        <div class="head-right">
          <Act name="undo" words="Undo" />
          <Act name="find" words="Find" />
          <Act name="light" words={LIGHT_WORDS[light]} />
          <Act name="keys" words="Keys" />
        </div>
      </header>
      <div class="above">
        {read && read.sizes.length > 1 && (
          <fieldset class="sizes">
            <legend>Size</legend>
            {read.sizes.map((name, place) => (
              <label key={name} class={place === size ? "size size-chosen" : "size"}>
                <input type="radio" name="size" checked={place === size} onChange={() => chooseSize(place)} />
                {name}
              </label>
            ))}
          </fieldset>
        )}
        <div class="above-right">
          {terms && <Act name="terms" words={`${terms} terms`} />}
          <Act name="units" words={units === "in" ? "inches" : "centimetres"} />
        </div>
        <nav class="tabs" aria-label="Beside the page">
          {PANELS.map((name) => (
            <Act key={name} name={name} words={LABELS[name]} class={panel === name ? "tab tab-chosen" : "tab"} pressed={panel === name} />
          ))}
        </nav>
      </div>
      <Apart />
      {page.example && (
        <p class="band band-live">
          <span>This is one of our examples. It cannot be spoilt, and what you type here is not kept.</span> <Act name="copy_example" class="strong" />
        </p>
      )}
      <main class="sheet-place">
        <Summary />
        <div class="sheet">
          <Editor name={page.name} />
          <Queries />
        </div>
      </main>
      {keys ? <KeyMap /> : panel && <Panel panel={panel} />}
    </div>
  );
}

const LIGHT_WORDS = { system: "Light", light: "Day", dark: "Lamp" } as const;

function Editor({ name }: { name: string }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!place.current) return undefined;
    mount(place.current, watcher);
    return unmount;
  }, []);
  return <div class="editor" ref={place} data-name={name} />;
}

/** Whether her words are on the disk. */
function Kept() {
  const { page } = state.value;
  if (!page || page.example) return <p class="kept" />;
  const said = {
    kept: "Kept",
    keeping: "Keeping…",
    waiting: "Keeping…",
    refused: page.theirs ? "Two texts" : "Not kept yet",
  }[page.keeping];
  return (
    <p class={`kept kept-${page.keeping}`} role="status" title={page.refusal || "Every change is kept by itself; History has each of them."}>
      {said}
    </p>
  );
}
