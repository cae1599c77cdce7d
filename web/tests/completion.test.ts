import { expect, test } from "vitest";
import { nextRow } from "../src/editor/completion";

test("the next label follows the last one above, and a range by its end", () => {
  expect(nextRow("")).toBe("Rnd 1: ");
  expect(nextRow("Rnd 6: 6 sc\nRnd 7: inc around\n")).toBe("Rnd 8: ");
  expect(nextRow("Row 3: sc\nRows 4-9: sc")).toBe("Row 10: ");
});
