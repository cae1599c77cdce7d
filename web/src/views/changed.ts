/** What a mend changes, with a few words around it, where the whole line would hide it. */

const AROUND = 22;

export interface Changed {
  lead: string;
  out: string;
  into: string;
  tail: string;
}

/** The words that differ, whole, with what stands before and behind them. */
export function changed(before: string, after: string): Changed {
  if (before === after) return { lead: before, out: "", into: "", tail: "" };
  let start = 0;
  const shorter = Math.min(before.length, after.length);
  while (start < shorter && before[start] === after[start]) start += 1;
  let end = 0;
  while (end < shorter - start && before[before.length - 1 - end] === after[after.length - 1 - end]) end += 1;
  // Whole words and numbers, so that 66 to 64 is not shown as 6 to 4.
  while (start > 0 && /[\p{L}\d]/u.test(before[start - 1] ?? "")) start -= 1;
  while (end > 0 && /[\p{L}\d]/u.test(before[before.length - end] ?? "")) end -= 1;
  const lead = before.slice(0, start);
  const tail = before.slice(before.length - end);
  return {
    lead: lead.length > AROUND + 8 ? `…${lead.slice(-AROUND).replace(/^\S*\s/, "")}` : lead,
    out: before.slice(start, before.length - end),
    into: after.slice(start, after.length - end),
    tail: tail.length > AROUND + 8 ? `${tail.slice(0, AROUND).replace(/\s\S*$/, "")}…` : tail,
  };
}
