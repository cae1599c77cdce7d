/** Puts notes down a margin: each as near to where it belongs as the others allow. */

const GAP = 8;

/** Gives the tops. The note at `anchor` stands exactly level; those above it are pushed up, those below down. */
export function spread(wanted: number[], heights: number[], anchor = -1): number[] {
  const tops = [...wanted];
  const first = anchor < 0 ? 0 : anchor;
  for (let at = first + 1; at < tops.length; at += 1) {
    tops[at] = Math.max(tops[at] ?? 0, (tops[at - 1] ?? 0) + (heights[at - 1] ?? 0) + GAP);
  }
  for (let at = first - 1; at >= 0; at -= 1) {
    tops[at] = Math.min(tops[at] ?? 0, (tops[at + 1] ?? 0) - (heights[at] ?? 0) - GAP);
  }
  const above = Math.min(0, ...tops);
  if (above === 0) return tops;
  // There is no room above the page: what was pushed out comes down, and pushes on.
  const down: number[] = [];
  tops.forEach((top, at) => down.push(at === 0 ? Math.max(0, top) : Math.max(top, (down[at - 1] ?? 0) + (heights[at - 1] ?? 0) + GAP)));
  return down;
}
