import { expect, test } from "vitest";
import { toUnits } from "../src/server/offsets";

test("a text of plain letters counts alike on both sides", () => {
  const units = toUnits("6 sc in a magic ring");
  expect([units(0), units(4), units(99)]).toEqual([0, 4, 20]);
});

test("behind a sign of two units the places are moved by one", () => {
  const text = "🧶 6 sc 🧵 (6)";
  const units = toUnits(text);
  expect(text.slice(units(2), units(6))).toBe("6 sc");
  expect(text.slice(units(9), units(12))).toBe("(6)");
  expect(units(99)).toBe(text.length);
});
