import { expect, test } from "vitest";
import { EMPTY } from "../src/state/state";
import { update } from "../src/state/update";

const pattern = { name: "cap.txt", text: "Cap", version: "a", example: false };
const opened = update(EMPTY, { is: "opened", pattern });

test("words typed while the last ones are written still wait", () => {
  let state = update(opened, { is: "typed" });
  state = update(state, { is: "keeping" });
  state = update(state, { is: "typed" });
  state = update(state, { is: "kept", version: "b" });
  expect(state.page?.keeping).toBe("waiting");
  expect(state.page?.version).toBe("b");
});

test("another's text is held beside ours until she has chosen", () => {
  const parted = update(opened, { is: "parted", theirs: { text: "Other", version: "c" } });
  expect(parted.page?.theirs?.text).toBe("Other");
  const joined = update(parted, { is: "joined", version: "c" });
  expect([joined.page?.theirs, joined.page?.version]).toEqual([null, "c"]);
});

test("a size that the pattern has lost is not kept", () => {
  const read = { number: 1, title: "", sizes: ["S", "M"], size: 0, terms: "US", units: "cm", summary: "", look: [], lines: [], rows: [], marks: [] };
  const far = update(update(opened, { is: "size", size: 4 }), { is: "read", read });
  expect([far.size, far.units]).toEqual([1, "cm"]);
});

test("nothing of the last pattern is shown with the next one", () => {
  const busy = update(update(opened, { is: "without", words: "no chart" }), { is: "panel", panel: "chart" });
  const next = update(busy, { is: "opened", pattern: { ...pattern, name: "mitts.txt" } });
  expect([next.read, next.queries, next.chart, next.without]).toEqual([null, [], null, ""]);
});
