import { expect, test } from "vitest";
import { neighbour, standing, tallyOf, weightiest } from "../src/state/order";
import type { PlacedQuery } from "../src/state/state";

const query = (key: string, from: number, weight: PlacedQuery["weight"], follows: string | null = null): PlacedQuery => ({
  key,
  from,
  to: from + 1,
  weight,
  follows,
  places: [],
  name: key,
  headline: key,
  because: "",
  help: "",
  row: "",
  line: 1,
  column: 1,
  label: "",
  follow: 0,
  start: from,
  end: from + 1,
  sizes: [],
  notes: [],
  edits: [],
  leave: "",
});

const four = [query("late", 90, "Fix"), query("soft", 10, "Consider"), query("look", 50, "Look"), query("shadow", 91, "Fix", "late")];

test("what follows from another does not stand on its own", () => {
  expect(standing(four).map((one) => one.key)).toEqual(["soft", "look", "late"]);
});

test("the three weightiest are shown in full, whatever their place", () => {
  const five = [...four, query("second", 5, "Fix"), query("third", 70, "Fix")];
  expect(weightiest(five)).toEqual(new Set(["second", "third", "late"]));
});

test("the next query goes round, and begins where the cursor is", () => {
  expect(neighbour(four, null, 20, 1)?.key).toBe("look");
  expect(neighbour(four, "late", 0, 1)?.key).toBe("soft");
  expect(neighbour(four, "soft", 0, -1)?.key).toBe("late");
  expect(neighbour([], null, 0, 1)).toBeNull();
});

test("weights are counted without what follows", () => {
  expect(tallyOf(four)).toEqual([
    { weight: "Fix", count: 1 },
    { weight: "Look", count: 1 },
    { weight: "Consider", count: 1 },
  ]);
});
