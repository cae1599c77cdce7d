/** Code points, as the server counts, against the units of this language. Text without astral signs needs no table. */

const ASTRAL = /[\ud800-\udbff][\udc00-\udfff]/;

/** Gives a function from an offset in code points to one in UTF-16 units. */
export function toUnits(text: string): (point: number) => number {
  if (!ASTRAL.test(text)) return (point) => Math.min(point, text.length);
  const units: number[] = [];
  for (let at = 0; at < text.length; ) {
    units.push(at);
    const code = text.codePointAt(at) ?? 0;
    at += code > 0xffff ? 2 : 1;
  }
  units.push(text.length);
  return (point) => units[Math.min(point, units.length - 1)] ?? text.length;
}
