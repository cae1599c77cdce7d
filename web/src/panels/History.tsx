import { haveBack, showRevision } from "../session/session";
import { state, tell } from "../state/store";
import { when } from "../views/when";
import { folded, type Shown } from "./alike";

/** Every text that was kept, what it changed, and the way back. */
export function History() {
  const { revisions, revision, page } = state.value;
  if (page?.example) return <p>An example has no history; a copy of it has.</p>;
  if (!revisions) return <p class="quiet">Looking…</p>;
  const differs = revision?.shown.difference.some((piece) => piece.kind !== "same") ?? false;
  return (
    <>
      <p class="quiet">Every change is kept. Nothing here can be lost by having something back.</p>
      {revision && (
        <section class="revision">
          <header class="buttons">
            <button type="button" class="strong" disabled={!differs} onClick={() => void haveBack()}>
              Have this text back
            </button>
            <button type="button" class="plain" onClick={() => tell({ is: "no-revision" })}>
              Put away
            </button>
          </header>
          <pre class="difference" tabIndex={0} aria-label="What differs from the text now">
            {differs ? folded(revision.shown.difference).map(shown) : "This is the text as it stands now."}
          </pre>
        </section>
      )}
      <ol class="revisions">
        {revisions.map((one) => (
          <li key={one.id}>
            <button
              type="button"
              class={revision?.id === one.id ? "revision-name revision-chosen" : "revision-name"}
              aria-pressed={revision?.id === one.id}
              onClick={() => void showRevision(one.id)}
            >
              <time dateTime={one.saved}>{when(one.saved)}</time>
              <span>{one.words}</span>
            </button>
          </li>
        ))}
      </ol>
    </>
  );
}

function shown(piece: Shown, at: number) {
  if (piece.kind === "in") return <ins key={at}>{piece.text}</ins>;
  if (piece.kind === "out") return <del key={at}>{piece.text}</del>;
  return (
    <span key={at} class={piece.kind}>
      {piece.text}
    </span>
  );
}
