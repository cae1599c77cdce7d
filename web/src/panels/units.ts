/** Figures come in both units, the other one in a row without a name below its own: here the chosen one is picked. */

import type { Table } from "../server/shapes";

const UNITS = { in: ["in", "yd"], cm: ["cm", "m"] } as const;

/** The rows in inches and yards or in centimetres and metres; what has no such unit, as grams and balls, stays. */
export function inUnits(rows: Table["rows"], units: "in" | "cm"): Table["rows"] {
  const wanted: readonly string[] = UNITS[units];
  const other: readonly string[] = UNITS[units === "in" ? "cm" : "in"];
  const found: Table["rows"] = [];
  let group: Table["rows"] = [];
  const close = () => {
    const has = group.some((row) => wanted.includes(row.unit));
    const own = group.filter((row) => !(has && other.includes(row.unit)));
    const what = group[0]?.what ?? "";
    found.push(...own.map((row, place) => (place === 0 ? { ...row, what } : row)));
    group = [];
  };
  for (const row of rows) {
    if (row.what) close();
    group.push(row);
  }
  close();
  return found;
}
