/** Going from query to query, mending and leaving. */

import { change } from "../editor/editor";
import { queryOpened } from "../editor/answers";
import { neighbour } from "../state/order";
import type { PlacedQuery, State } from "../state/state";
import { state, tell } from "../state/store";
import { refreshPanel } from "./session";
import { readNow } from "./reading";
import { narrow } from "../views/narrow";
import { editor } from "./text";
import { EditorView } from "@codemirror/view";

export function opened(now: State): PlacedQuery | undefined {
  return now.queries.find((query) => query.key === now.open);
}

/** Opens a query and brings its words into sight. */
export function openQuery(query: PlacedQuery | null): void {
  const view = editor();
  tell({ is: "query", key: query?.key ?? null });
  view?.dispatch({
    effects: query
      ? [queryOpened.of(query.key), EditorView.scrollIntoView(query.from, { y: "center" })]
      : [queryOpened.of(null)],
    ...(query ? { selection: { anchor: query.from } } : {}),
  });
}

export function step(way: 1 | -1): void {
  const view = editor();
  if (!view) return;
  const { queries, open } = state.value;
  const next = neighbour(queries, open, view.state.selection.main.head, way);
  if (!next) return;
  openQuery(next);
  const card = document.getElementById(cardId(next));
  card?.focus({ preventScroll: true });
  // Where the queries stand below the text, the one that is meant is brought into sight.
  if (narrow()) card?.scrollIntoView({ block: "center" });
}

export const cardId = (query: PlacedQuery) => `query-${query.key.replace(/\W+/g, "-")}`;

/** Does one of the mends of a query; one undo takes it back. */
export function mend(which: number, query = opened(state.value)): void {
  const now = state.value;
  const view = editor();
  const edit = query?.edits[which];
  const place = query?.places[which];
  if (!view || !edit || !place || !now.edited) return;
  change(view, place.from, place.to, edit.text, place.from + edit.text.length);
  tell({ is: "notice", words: `Mended: ${query.headline}. Undo takes it back.`, passing: true });
  view.focus();
}

/** Writes the editor's word: the query stays quiet, and the page says why. */
export function leave(query = opened(state.value)): void {
  const view = editor();
  if (!view || !query?.leave) return;
  const doc = view.state.doc;
  const last = doc.toString().trimEnd();
  const anew = /^Editor:/m.test(last.split("\n").at(-1) ?? "") ? "\n" : "\n\n";
  const reason = "because ";
  const line = `${query.leave}, ${reason}`;
  change(view, last.length, doc.length, `${anew}${line}\n`, last.length + anew.length + line.length);
  view.focus();
}

export function chooseSize(size: number): void {
  tell({ is: "size", size });
  readNow();
  void refreshPanel();
}
