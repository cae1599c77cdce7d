import { expect, test } from "vitest";
import { folded } from "../src/panels/alike";
import { inOrder, ownFolder } from "../src/panels/published";
import { inUnits } from "../src/panels/units";
import { when } from "../src/views/when";

const row = (what: string, unit: string) => ({ what, unit, values: ["1"] });

test("figures are shown in the chosen unit, under the name of their row, and weights stay", () => {
  const rows = [row("round", "in"), row("", "cm"), row("takes", "m"), row("", "yd"), row("weighs", "g"), row("to buy", "m"), row("", "yd"), row("", "balls")];
  expect(inUnits(rows, "in").map((one) => `${one.what}/${one.unit}`)).toEqual(["round/in", "takes/yd", "weighs/g", "to buy/yd", "/balls"]);
  expect(inUnits(rows, "cm").map((one) => `${one.what}/${one.unit}`)).toEqual(["round/cm", "takes/m", "weighs/g", "to buy/m", "/balls"]);
});

test("a figure that is there in one unit alone is shown whatever is chosen", () => {
  expect(inUnits([row("round", "cm")], "in")).toEqual([row("round", "cm")]);
});

test("what two texts have alike is folded, two lines around what differs stay", () => {
  const lines = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, at) => `line ${from + at}`).join("\n");
  const shown = folded([
    { kind: "same", text: `${lines(1, 9)}\n` },
    { kind: "out", text: "old" },
    { kind: "in", text: "new" },
    { kind: "same", text: lines(10, 30) },
  ]);
  expect(shown.map((one) => `${one.kind}: ${one.text}`)).toEqual([
    "alike: 7 lines alike",
    "same: line 8\nline 9",
    "out: old",
    "in: new",
    "same: line 10\nline 11",
    "alike: 19 lines alike",
  ]);
});

test("a short stretch that is alike is shown whole", () => {
  const both = [{ kind: "same" as const, text: "one\ntwo" }, { kind: "in" as const, text: "new" }];
  expect(folded(both)).toEqual(both);
});

test("what was published is said in words, the page first, and what is unknown by its name", () => {
  const files = ["pattern.txt", "chart-body.svg", "extra.bin", "leaflet-a4.pdf", "index.html"].map((name) => ({ name, url: `/x/${name}` }));
  expect(inOrder(files).map((file) => file.says)).toEqual(["The page", "Leaflet for A4 paper", "Chart, as a drawing", "The plain text", "extra.bin"]);
});

test("a folder is named after its pattern", () => {
  expect(ownFolder("hats/Dune Beanie.TXT")).toBe("Dune Beanie-published");
});

test("what was kept today is told to the second, and another day by its date", () => {
  const now = new Date(2026, 10, 25, 18, 0, 0);
  expect(when(new Date(2026, 10, 25, 9, 5, 7).toISOString(), now)).toMatch(/^today, .*05.07/);
  expect(when(new Date(2026, 10, 24, 9, 5, 7).toISOString(), now)).toContain("2026");
});
