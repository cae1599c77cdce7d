import { publish } from "../session/session";
import { tallyOf } from "../state/order";
import { state, tell } from "../state/store";
import { inOrder, ownFolder } from "./published";

/** Makes the folder with page, leaflets, charts and text. */
export function Publish() {
  const { publishing, publishInto, queries, page } = state.value;
  const fixes = tallyOf(queries).find((one) => one.weight === "Fix")?.count ?? 0;
  const busy = publishing !== null && !publishing.folder && !publishing.problem;
  if (page?.example) return <p>Make a copy of the example first; then it can be published.</p>;
  return (
    <>
      <p>A web page, leaflets to print, the chart and the plain text go into a folder beside the pattern. Nothing is sent anywhere.</p>
      {fixes > 0 && (
        <p class="band band-fix">
          {fixes === 1 ? "One query is to be fixed" : `${fixes} queries are to be fixed`} first, or makers will stumble.
        </p>
      )}
      <label class="choice">
        Folder{" "}
        <input
          value={publishInto ?? ownFolder(page?.name ?? "")}
          maxLength={100}
          spellcheck={false}
          disabled={busy}
          onInput={(event) => tell({ is: "publish-into", into: event.currentTarget.value })}
        />
      </label>
      <div class="buttons">
        <button type="button" class="strong" disabled={busy || fixes > 0} onClick={() => void publish(false)}>
          Publish
        </button>
        {fixes > 0 && (
          <button type="button" class="plain" disabled={busy} onClick={() => void publish(true)}>
            Publish with its faults
          </button>
        )}
      </div>
      <div aria-live="polite">
        {busy && (
          <p>
            <progress value={publishing.done ?? 0} max={publishing.of ?? 1} aria-label="Publishing" /> {publishing.what}
          </p>
        )}
        {publishing?.problem && <p class="band band-look">{publishing.problem}</p>}
        {publishing?.folder && (
          <>
            <p>
              It is in <strong>{publishing.folder}</strong>.
            </p>
            <ul class="plain-list">
              {inOrder(publishing.files ?? []).map((file) => (
                <li key={file.name}>
                  <a href={file.url} target="_blank" rel="noopener">
                    {file.says}
                  </a>{" "}
                  <span class="quiet">{file.name}</span>
                </li>
              ))}
            </ul>
          </>
        )}
      </div>
    </>
  );
}
