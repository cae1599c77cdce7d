import { expect, test } from "vitest";
import { spread } from "../src/views/spread";

/** No two notes lie on each other, and none above the page. */
function lieApart(tops: number[], heights: number[]): boolean {
  return tops.every((top, at) => top >= 0 && (at === 0 || top >= (tops[at - 1] ?? 0) + (heights[at - 1] ?? 0)));
}

test("notes that have room stand level with their words", () => {
  expect(spread([0, 100, 300], [40, 40, 40])).toEqual([0, 100, 300]);
});

test("notes that would lie on each other are pushed down", () => {
  const tops = spread([0, 10, 20], [40, 40, 40]);
  expect(tops).toEqual([0, 48, 96]);
});

test("the opened note stays level and those above give way", () => {
  const tops = spread([100, 110, 120], [40, 40, 40], 2);
  expect(tops[2]).toBe(120);
  expect(lieApart(tops, [40, 40, 40])).toBe(true);
});

test("at the top of the page there is no way up, so that all come down", () => {
  for (let tries = 0; tries < 200; tries += 1) {
    const wanted = Array.from({ length: 8 }, () => Math.floor(Math.random() * 200)).sort((one, other) => one - other);
    const heights = wanted.map(() => 10 + Math.floor(Math.random() * 90));
    expect(lieApart(spread(wanted, heights, tries % 9 === 8 ? -1 : tries % 8), heights)).toBe(true);
  }
});
