/** All actions, found by being there. */

import type { Action } from "./action";

const found = import.meta.glob<{ default: Action | Action[] }>(["./*.ts", "!./all.ts", "!./action.ts"], { eager: true });

export const ACTIONS: Action[] = Object.values(found).flatMap((module) => module.default);

export function action(name: string): Action {
  const one = ACTIONS.find((each) => each.name === name);
  if (!one) throw new Error(`there is no action ${name}`);
  return one;
}

/** What the key says to a person: `KeyN` is Alt+N. */
export function keyWords(key: string): string {
  const mac = navigator.platform.startsWith("Mac");
  const last = key
    .replace(/^Key|^Digit/, "")
    .replace("BracketLeft", "[")
    .replace("BracketRight", "]")
    .replace("Slash", "/")
    .replace("Comma", ",");
  return mac ? `⌥${last}` : `Alt+${last}`;
}
