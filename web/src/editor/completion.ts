/** Offers stitches, rows and headings while she types. */

import type { Completion, CompletionContext, CompletionResult } from "@codemirror/autocomplete";
import type { WordsAnswer } from "../server/shapes";

let known: WordsAnswer = { stitches: [], words: [], keys: [], headings: [] };

export function setWords(words: WordsAnswer): void {
  known = words;
}

/** What can be offered at a place: at the beginning of a line rows, headings and keys, else stitches and words. */
export function complete(context: CompletionContext): CompletionResult | null {
  const line = context.state.doc.lineAt(context.pos);
  const before = line.text.slice(0, context.pos - line.from);
  const word = /[\p{L}][\p{L}\d-]*$/u.exec(before);
  if (!word) {
    if (!context.explicit) return null;
    return { from: context.pos, options: stitches() };
  }
  if (word[0].length < 2 && !context.explicit) return null;
  const from = context.pos - word[0].length;
  if (before.trim() === word[0]) return { from, options: beginnings(context), validFor: /^[\p{L}\d-]*$/u };
  return { from, options: [...stitches(), ...known.words.map((label) => ({ label, type: "text" }))], validFor: /^[\p{L}\d-]*$/u };
}

function stitches(): Completion[] {
  return known.stitches.map((stitch) => ({ label: stitch.word, detail: stitch.name, info: stitch.says, type: "keyword" }));
}

function beginnings(context: CompletionContext): Completion[] {
  const next = nextRow(context.state.doc.toString().slice(0, context.pos));
  return [
    { label: next, type: "keyword", boost: 10 },
    ...known.keys.map((key) => ({ label: `${key}: `, displayLabel: `${key}:`, type: "property" })),
    ...known.headings.map((heading) => ({ label: heading, type: "text" })),
  ];
}

/** The label that follows the last one above.
 *
 * nextRow("Rnd 7: …") is "Rnd 8: ".
 */
export function nextRow(above: string): string {
  const labels = [...above.matchAll(/^\s*(Rnds?|Rows?|Rounds?)\s+(\d+)(?:\s*[-–]\s*(\d+))?/gim)];
  const last = labels.at(-1);
  if (!last) return "Rnd 1: ";
  const word = (last[1] ?? "Rnd").replace(/s$/i, "");
  return `${word} ${Number(last[3] ?? last[2]) + 1}: `;
}
