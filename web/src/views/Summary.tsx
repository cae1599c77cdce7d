import { EditorView } from "@codemirror/view";
import { editor } from "../session/text";
import { tallyOf } from "../state/order";
import { state } from "../state/store";
import { Act } from "./Act";

/** What was understood, first of all. */
export function Summary() {
  const { read, queries, edited } = state.value;
  if (!read) return <p class="summary" aria-busy="true">Reading…</p>;
  const weights = tallyOf(queries);
  return (
    <div class="summary" aria-live="polite">
      <p class="summary-words">
        {read.look.length === 0 ? read.summary : `${read.summary.replace(/; look at .*$/s, "")}; look at `}
        {read.look.map((one, place) => (
          <span key={`${one.label}-${one.size}`}>
            {place > 0 && ", "}
            <button type="button" class="link" onClick={() => goTo(one.line)}>
              {one.size ? `${one.label}, ${one.size}` : one.label}
            </button>
          </span>
        ))}
      </p>
      <p class="summary-tally">
        {weights.map(({ weight, count }) => (
          <span key={weight} class={`weight weight-${weight.toLowerCase()}`}>
            {count} {weight}
          </span>
        ))}
        {edited && weights.length === 0 && <span class="weight weight-none">No queries</span>}
        {!edited && <span class="quiet">…</span>}
        <Act name="previous_query" words="↑" class="plain small" />
        <Act name="next_query" words="↓" class="plain small" />
      </p>
    </div>
  );
}

function goTo(line: number): void {
  const view = editor();
  if (!view || line > view.state.doc.lines) return;
  const { from } = view.state.doc.line(line);
  view.dispatch({ selection: { anchor: from }, effects: EditorView.scrollIntoView(from, { y: "center" }) });
  view.focus();
}
