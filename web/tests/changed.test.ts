import { expect, test } from "vitest";
import { changed } from "../src/views/changed";

test("of a long row only the number that changes is shown, with a few words around it", () => {
  const row = "Rnd 18: With B, ch 1, *spike sc in next st, sc in next 3 sts; rep from * around, join. (66 sts)";
  const one = changed(row, row.replace("66", "64"));
  expect([one.out, one.into]).toEqual(["66", "64"]);
  expect(one.lead.length).toBeLessThan(40);
  expect(one.lead.startsWith("…")).toBe(true);
  expect(one.tail).toBe(" sts)");
});

test("what is put in and what is taken out are whole words", () => {
  expect(changed("sc in next", "hdc in next")).toEqual({ lead: "", out: "sc", into: "hdc", tail: " in next" });
  expect(changed("6 sc", "6 sc around")).toMatchObject({ out: "sc", into: "sc around" });
  expect(changed("same", "same")).toMatchObject({ out: "", into: "" });
});
