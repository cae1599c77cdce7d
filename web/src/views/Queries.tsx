import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { cardId, leave, mend, openQuery } from "../session/queries";
import { editor, onMoved } from "../session/text";
import { standing, weightiest } from "../state/order";
import type { PlacedQuery } from "../state/state";
import { state } from "../state/store";
import { changed } from "./changed";
import { spread } from "./spread";

/** The right margin: queries level with their words, pushed down only where they would lie on each other. */
export function Queries() {
  const { queries, open, edited } = state.value;
  const column = useRef<HTMLDivElement>(null);
  const [, again] = useState(0);
  const full = weightiest(queries);
  const shown = standing(queries);

  useLayoutEffect(() => onMoved(() => requestAnimationFrame(() => again((times) => times + 1))), []);
  useLayoutEffect(() => {
    const view = editor();
    if (!column.current || !view) return;
    const cards = [...column.current.children] as HTMLElement[];
    if (getComputedStyle(column.current).position !== "relative") {
      for (const card of cards) card.style.removeProperty("top");
      column.current.style.removeProperty("min-height");
      return;
    }
    // What stands above the text, as the bar for finding does, moves it against the margin.
    const above = view.documentTop - column.current.getBoundingClientRect().top;
    const wanted = shown.map((query) => view.lineBlockAt(Math.min(query.from, view.state.doc.length)).top + above);
    const heights = cards.map((card) => card.offsetHeight);
    const anchor = shown.findIndex((query) => query.key === open);
    const tops = spread(wanted, heights, anchor);
    cards.forEach((card, place) => card.style.setProperty("top", `${tops[place]}px`));
    column.current.style.minHeight = `${Math.max(0, ...tops.map((top, place) => top + (heights[place] ?? 0)))}px`;
  });

  return (
    <div class={edited ? "queries" : "queries queries-older"} ref={column} role="list" aria-label="Queries">
      {shown.map((query) => (
        <Card key={query.key} query={query} full={full.has(query.key) || query.key === open} open={query.key === open} />
      ))}
    </div>
  );
}

function Card({ query, full, open }: { query: PlacedQuery; full: boolean; open: boolean }) {
  const weight = query.weight.toLowerCase();
  const leaving = query.leave && (
    <button type="button" class="plain small" title="Writes your word into the pattern, so that this stays quiet" onClick={() => leave(query)}>
      Leave it
    </button>
  );
  return (
    <div class={`query query-${weight}${open ? " query-open" : ""}`} id={cardId(query)} role="listitem" tabIndex={-1}>
      <button type="button" class="query-head" aria-expanded={full} onClick={() => openQuery(open ? null : query)}>
        <span class="query-weight">{query.weight}</span> <span class="query-headline">{query.headline}</span>
        {where(query) && <span class="query-sizes">{where(query)}</span>}
      </button>
      {full && (
        <div class="query-body">
          {query.because && <p class="query-because">{query.because}</p>}
          {query.help && <p class="query-help">{query.help}</p>}
          {query.edits.map((edit, place) => (
            <MendView key={`${edit.start}-${edit.text}`} query={query} edit={edit} which={place}>
              {place === query.edits.length - 1 && leaving}
            </MendView>
          ))}
          {query.edits.length === 0 && <div class="query-acts">{leaving}</div>}
        </div>
      )}
    </div>
  );
}

/** The row and the sizes that a query speaks of; the sizes only where they are not all. */
function where(query: PlacedQuery): string {
  const all = state.value.read?.sizes.length ?? 1;
  const sizes = query.sizes.length > 0 && query.sizes.length < all ? query.sizes.join(", ") : "";
  return [query.row, sizes].filter(Boolean).join(" · ");
}

interface MendProps {
  query: PlacedQuery;
  edit: PlacedQuery["edits"][number];
  which: number;
  children?: ComponentChildren;
}

function MendView({ query, edit, which, children }: MendProps) {
  const { lead, out, into, tail } = changed(edit.before, edit.after);
  return (
    <div class="mend">
      <p class="mend-words">
        {lead}
        {out && <del>{out}</del>}
        {out && into && <span aria-hidden="true"> → </span>}
        {into && <ins>{into}</ins>}
        {tail}
      </p>
      <div class="query-acts">
        <button type="button" class="strong small" disabled={!state.value.edited} onClick={() => mend(which, query)}>
          Mend
        </button>
        <span class="quiet">{edit.certainty === "sure" ? "makes nothing else" : "changes what is made"}</span>
        {children}
      </div>
    </div>
  );
}
