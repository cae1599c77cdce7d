import { refreshPanel } from "../session/session";
import { state, tell } from "../state/store";
import { pictureOf } from "./picture";

/** The chart of one piece in the chosen size, and the same in words. */
export function Chart() {
  const { chart, chartPiece, without } = state.value;
  if (!chart || without) return without ? null : <p class="quiet">Drawing…</p>;
  return (
    <>
      {chart.pieces.length > 1 && (
        <label class="choice">
          Piece{" "}
          <select
            value={chartPiece ?? chart.pieces[0]}
            onChange={(event) => {
              tell({ is: "chart-piece", piece: event.currentTarget.value });
              void refreshPanel();
            }}
          >
            {chart.pieces.map((piece) => (
              <option key={piece}>{piece}</option>
            ))}
          </select>
        </label>
      )}
      <figure class="chart">
        <img src={pictureOf(chart.svg)} alt={`${chart.title}. The rows in words stand below.`} />
        <figcaption>{chart.title}</figcaption>
      </figure>
      <details class="words" open>
        <summary>In words</summary>
        <ol class="plain-list">
          {chart.words.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
      </details>
    </>
  );
}
