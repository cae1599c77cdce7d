/** What the server said of the text, kept in the editor so that it moves with the words while she types. */

import { RangeSet, RangeSetBuilder, StateEffect, StateField, type Extension } from "@codemirror/state";
import { Decoration, type DecorationSet, EditorView, GutterMarker, gutter } from "@codemirror/view";
import type { MarginLine, TextMark } from "../server/shapes";
import type { PlacedQuery } from "../state/state";

export const readArrived = StateEffect.define<{ lines: MarginLine[]; marks: TextMark[]; units: (point: number) => number }>();
export const queriesArrived = StateEffect.define<PlacedQuery[]>();
export const queryOpened = StateEffect.define<string | null>();

/** The count that a row really has, with a bar of its length and the written one where they differ. */
class Count extends GutterMarker {
  constructor(
    readonly line: MarginLine,
    readonly widest: number,
  ) {
    super();
  }

  override eq(other: Count): boolean {
    return this.widest === other.widest && JSON.stringify(this.line) === JSON.stringify(other.line);
  }

  override toDOM(): HTMLElement {
    const { worked, stated, agrees, about, left } = this.line;
    const box = document.createElement("div");
    box.className = agrees === false || left > 0 ? "count count-off" : "count";
    // The written count is struck out before the one that is worked, as a pencil would do it.
    if (agrees === false && stated !== null) box.append(part("count-stated", part("", `${stated}`, "del")));
    else if (left > 0) box.append(part("count-stated", `${left} over`));
    box.append(part("count-worked", worked === null ? "?" : `${about ? "about " : ""}${worked}`));
    if (worked !== null && this.widest > 0) {
      const bar = part("count-bar", "");
      bar.style.width = `${Math.max(2, Math.round((100 * worked) / this.widest))}%`;
      box.append(bar);
    }
    box.setAttribute("role", "note");
    box.setAttribute("aria-label", spoken(this.line));
    return box;
  }
}

function part(look: string, inside: string | Node, kind: "span" | "del" = "span"): HTMLElement {
  const made = document.createElement(kind);
  made.className = look;
  made.append(inside);
  return made;
}

function spoken(line: MarginLine): string {
  if (line.worked === null) return `${line.label}: not known`;
  const worked = `${line.label}: ${line.about ? "about " : ""}${line.worked} worked`;
  if (line.agrees === false && line.stated !== null) return `${worked}, ${line.stated} written`;
  return line.left > 0 ? `${worked}, ${line.left} left over` : worked;
}

const counts = StateField.define<RangeSet<GutterMarker>>({
  create: () => RangeSet.empty,
  update(held, change) {
    let markers = held.map(change.changes);
    for (const effect of change.effects) {
      if (!effect.is(readArrived)) continue;
      const builder = new RangeSetBuilder<GutterMarker>();
      const widest = Math.max(0, ...effect.value.lines.map((line) => line.worked ?? 0));
      let last = 0;
      for (const line of [...effect.value.lines].sort((one, other) => one.line - other.line)) {
        if (line.line <= last || line.line > change.state.doc.lines) continue;
        last = line.line;
        const from = change.state.doc.line(line.line).from;
        builder.add(from, from, new Count(line, widest));
      }
      markers = builder.finish();
    }
    return markers;
  },
});

const colouring = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(held, change) {
    let marks = held.map(change.changes);
    for (const effect of change.effects) {
      if (!effect.is(readArrived)) continue;
      const length = change.state.doc.length;
      const { units } = effect.value;
      marks = Decoration.set(
        effect.value.marks
          .map((mark) => ({ from: units(mark.start), to: Math.min(units(mark.end), length), kind: mark.kind }))
          .filter((mark) => mark.from < mark.to)
          .map((mark) => Decoration.mark({ class: `word-${mark.kind}` }).range(mark.from, mark.to)),
        true,
      );
    }
    return marks;
  },
  provide: (field) => EditorView.decorations.from(field),
});

interface Pencilled {
  queries: PlacedQuery[];
  open: string | null;
}

/** The queries, moved with the text. */
export const pencilled = StateField.define<Pencilled>({
  create: () => ({ queries: [], open: null }),
  update(held, change) {
    let next = held;
    if (change.docChanged && held.queries.length > 0) {
      const move = (at: number, side: -1 | 1) => change.changes.mapPos(at, side);
      next = {
        ...next,
        queries: next.queries.map((query) => ({
          ...query,
          from: move(query.from, -1),
          to: move(query.to, 1),
          places: query.places.map((place) => ({ from: move(place.from, -1), to: move(place.to, 1) })),
        })),
      };
    }
    for (const effect of change.effects) {
      if (effect.is(queriesArrived)) next = { ...next, queries: effect.value };
      if (effect.is(queryOpened)) next = { ...next, open: effect.value };
    }
    return next;
  },
  provide: (field) => EditorView.decorations.from(field, underlines),
});

function underlines(held: Pencilled): DecorationSet {
  const ranges = held.queries
    .filter((query) => query.follows === null && query.from < query.to)
    .map((query) => {
      const open = query.key === held.open ? " pencil-open" : "";
      return Decoration.mark({ class: `pencil pencil-${query.weight.toLowerCase()}${open}` }).range(query.from, query.to);
    });
  return Decoration.set(ranges, true);
}

export const answers: Extension = [
  counts,
  colouring,
  pencilled,
  gutter({
    class: "count-margin",
    markers: (view) => view.state.field(counts),
    initialSpacer: () => new Count({ line: 0, label: "", worked: 888, about: false, stated: null, agrees: null, left: 0, colours: [] }, 0),
  }),
];
