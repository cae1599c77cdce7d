/** Folds what two texts have alike, so that what differs is seen. */

import type { RevisionText } from "../server/shapes";

/** So many lines stand around what differs. */
const AROUND = 2;

export interface Shown {
  kind: "same" | "out" | "in" | "alike";
  text: string;
}

/** Long stretches of lines that are the same become one line that says how many they are. */
export function folded(difference: RevisionText["difference"]): Shown[] {
  return difference.flatMap((piece, place): Shown[] => {
    if (piece.kind !== "same") return [piece];
    const lines = piece.text.replace(/\n$/, "").split("\n");
    const before = place === 0 ? 0 : AROUND;
    const after = place === difference.length - 1 ? 0 : AROUND;
    const left = lines.length - before - after;
    if (left <= AROUND) return [piece];
    const shown: Shown[] = [];
    if (before > 0) shown.push({ kind: "same", text: lines.slice(0, before).join("\n") });
    shown.push({ kind: "alike", text: left === 1 ? "1 line alike" : `${left} lines alike` });
    if (after > 0) shown.push({ kind: "same", text: lines.slice(-after).join("\n") });
    return shown;
  });
}
