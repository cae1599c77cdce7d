/** Which queries come first, and which are shown in full. */

import type { Weight } from "../server/shapes";
import type { PlacedQuery } from "./state";

const HEAVY: Record<Weight, number> = { Fix: 0, Look: 1, Consider: 2 };
const IN_FULL = 3;

/** The queries that stand on their own, in the order of the page. */
export function standing(queries: PlacedQuery[]): PlacedQuery[] {
  return queries.filter((query) => query.follows === null).sort((one, other) => one.from - other.from);
}

/** The keys of the weightiest few. */
export function weightiest(queries: PlacedQuery[]): Set<string> {
  const heavy = standing(queries).sort((one, other) => HEAVY[one.weight] - HEAVY[other.weight] || one.from - other.from);
  return new Set(heavy.slice(0, IN_FULL).map((query) => query.key));
}

/** The query after, or before, a place in the text; around at the end. */
export function neighbour(queries: PlacedQuery[], open: string | null, at: number, step: 1 | -1): PlacedQuery | null {
  const all = standing(queries);
  if (all.length === 0) return null;
  const here = all.findIndex((query) => query.key === open);
  if (here >= 0) return all[(here + step + all.length) % all.length] ?? null;
  const after = all.findIndex((query) => query.from >= at);
  if (step > 0) return all[after < 0 ? 0 : after] ?? null;
  return all[after <= 0 ? all.length - 1 : after - 1] ?? null;
}

/** How many of each weight, in words. */
export function tallyOf(queries: PlacedQuery[]): { weight: Weight; count: number }[] {
  const weights: Weight[] = ["Fix", "Look", "Consider"];
  const all = standing(queries);
  return weights
    .map((weight) => ({ weight, count: all.filter((query) => query.weight === weight).length }))
    .filter((one) => one.count > 0);
}
