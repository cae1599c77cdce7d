import { refreshPanel } from "../session/session";
import { state, tell } from "../state/store";
import { pictureOf } from "./picture";

/** The pages as they will print. */
export function Leaflet() {
  const { leaflet, paper, large, without } = state.value;
  const set = (next: { paper: "A4" | "Letter"; large: boolean }) => {
    tell({ is: "paper", ...next });
    void refreshPanel();
  };
  return (
    <>
      <div class="choices">
        <label class="choice">
          Paper{" "}
          <select value={paper} onChange={(event) => set({ paper: event.currentTarget.value === "Letter" ? "Letter" : "A4", large })}>
            <option>A4</option>
            <option>Letter</option>
          </select>
        </label>
        <label class="choice">
          <input type="checkbox" checked={large} onChange={(event) => set({ paper, large: event.currentTarget.checked })} /> Large print
        </label>
      </div>
      {!leaflet && !without && <p class="quiet">Setting the pages…</p>}
      <ol class="leaves">
        {leaflet?.pages.map((page, place) => (
          <li key={place}>
            <img src={pictureOf(page)} alt={`Page ${place + 1} of ${leaflet.pages.length} of the leaflet. Its words stand below.`} />
          </li>
        ))}
      </ol>
      {leaflet && (
        <details class="words">
          <summary>In words</summary>
          <pre class="difference" tabIndex={0}>
            {leaflet.words}
          </pre>
        </details>
      )}
    </>
  );
}
