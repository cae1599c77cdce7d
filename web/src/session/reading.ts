/** Has every keystroke counted, and drops answers to an older text. */

import { pencilled, queriesArrived, readArrived } from "../editor/answers";
import { ask, isAborted, Refusal } from "../server/ask";
import { toUnits } from "../server/offsets";
import type { QueriesAnswer, Query, ReadAnswer } from "../server/shapes";
import type { PlacedQuery } from "../state/state";
import { state, tell } from "../state/store";
import { editor, text } from "./text";

/** The whole edit waits for so long a rest, in milliseconds; the counts wait for nothing. */
const REST = 120;

let number = 0;
let running: AbortController | null = null;
let rest: ReturnType<typeof setTimeout> | undefined;
let asked = false;

/** Reads the text as it stands: counts at once, queries when she rests. */
export function readNow(): void {
  number += 1;
  clearTimeout(rest);
  if (running) {
    // One question at a time: the newest is asked as soon as the one under way is answered.
    asked = true;
    return;
  }
  void counts();
}

async function counts(): Promise<void> {
  const mine = number;
  const words = text();
  running = new AbortController();
  asked = false;
  try {
    const read = await ask<ReadAnswer>("POST", "/api/read", { text: words, size: state.value.size, number: mine }, running.signal);
    if (text() === words) {
      tell({ is: "read", read });
      editor()?.dispatch({ effects: readArrived.of({ lines: read.lines, marks: read.marks, units: toUnits(words) }) });
    }
  } catch (failure) {
    heard(failure);
  } finally {
    running = null;
  }
  if (asked || number !== mine) void counts();
  else rest = setTimeout(() => void queries(mine), REST);
}

async function queries(mine: number): Promise<void> {
  const words = text();
  try {
    const answer = await ask<QueriesAnswer>("POST", "/api/queries", { text: words, size: null, number: mine });
    if (text() !== words) return;
    const placed = place(answer.queries, words);
    editor()?.dispatch({ effects: queriesArrived.of(placed) });
    tell({ is: "queries", queries: placed });
  } catch (failure) {
    heard(failure);
  }
}

function heard(failure: unknown): void {
  if (isAborted(failure)) return;
  // An older question that the server has dropped by itself is nothing to speak of.
  if (failure instanceof Refusal && failure.problem.kind === "older") return;
  tell({ is: "notice", words: failure instanceof Refusal ? failure.problem.title : String(failure) });
}

/** Queries with their places in the editor's units. */
export function place(found: Query[], words: string): PlacedQuery[] {
  const units = toUnits(words);
  const seen = new Map<string, number>();
  return found.map((query) => {
    const base = `${query.name}|${query.row}|${query.headline}`;
    const times = seen.get(base) ?? 0;
    seen.set(base, times + 1);
    return {
      ...query,
      key: `${base}|${times}`,
      from: units(query.start),
      to: units(query.end),
      places: query.edits.map((edit) => ({ from: units(edit.start), to: units(edit.end) })),
    };
  });
}

/** Tells the views where the queries stand after the text has moved. */
export function followQueries(): void {
  const view = editor();
  if (!view) return;
  const { queries } = view.state.field(pencilled);
  if (queries !== state.value.queries) tell({ is: "moved", queries });
}
