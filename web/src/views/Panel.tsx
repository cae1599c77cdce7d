import { useEffect, useRef } from "preact/hooks";
import { LABELS } from "../actions/panels";
import { Chart } from "../panels/Chart";
import { History } from "../panels/History";
import { Leaflet } from "../panels/Leaflet";
import { Measures } from "../panels/Measures";
import { Publish } from "../panels/Publish";
import { Rows } from "../panels/Rows";
import { showPanel } from "../session/session";
import type { PanelName } from "../state/state";
import { state } from "../state/store";
import { stacked } from "./narrow";

const VIEWS: Record<PanelName, () => preact.JSX.Element | null> = {
  rows: Rows,
  chart: Chart,
  measures: Measures,
  leaflet: Leaflet,
  publish: Publish,
  history: History,
};

/** Takes the reader to what has come up; where it lies below the text, it is brought into sight from its beginning. */
export function cameUp(heading: HTMLElement | null): void {
  heading?.focus({ preventScroll: true });
  if (stacked()) heading?.closest(".panel")?.scrollIntoView();
}

/** One panel at a time, beside the text. */
export function Panel({ panel }: { panel: PanelName }) {
  const View = VIEWS[panel];
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => cameUp(heading.current), [panel]);
  return (
    <aside class="panel" aria-labelledby="panel-heading">
      <header class="panel-head">
        <h2 id="panel-heading" tabIndex={-1} ref={heading}>
          {LABELS[panel]}
        </h2>
        <button type="button" class="plain" onClick={() => void showPanel(null)}>
          Put away
        </button>
      </header>
      <div class="panel-body">
        {state.value.without && <p class="band band-look">{state.value.without}</p>}
        <View />
      </div>
    </aside>
  );
}
