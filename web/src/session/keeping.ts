/** Keeps her words: a moment after each change on disk, and until then in this browser, so that neither can lose them. */

import { ask, patternPath, Refusal } from "../server/ask";
import type { PatternText, Saved } from "../server/shapes";
import { state, tell } from "../state/store";
import { text } from "./text";
import { WINDOW } from "../server/ask";

/** Words are written after so long a rest, and while she types on at the latest after so long, in milliseconds. */
const REST = 250;
const LATEST = 700;

let rest: ReturnType<typeof setTimeout> | undefined;
let since = 0;
let writing: Promise<void> | null = null;

const draftKey = (name: string) => `roundhand:draft:${name}`;

interface Draft {
  text: string;
  version: string;
}

export function keepSoon(): void {
  const page = state.value.page;
  if (!page || page.example) return;
  draft(page.name, { text: text(), version: page.version });
  if (page.theirs) return;
  const now = performance.now();
  since ||= now;
  clearTimeout(rest);
  rest = setTimeout(() => void keepNow(), Math.max(0, Math.min(REST, since + LATEST - now)));
}

export async function keepNow(): Promise<void> {
  clearTimeout(rest);
  if (writing) await writing;
  const page = state.value.page;
  if (!page || page.example || page.theirs || page.keeping === "kept") return;
  writing = write(page.name, page.version);
  await writing;
  writing = null;
}

async function write(name: string, base: string): Promise<void> {
  since = 0;
  const words = text();
  tell({ is: "keeping" });
  try {
    const saved = await ask<Saved>("PUT", patternPath(name), { text: words, base: base || null, window: WINDOW });
    if (state.value.page?.name !== name) return;
    tell({ is: "kept", version: saved.version });
    if (text() === words) forget(name);
    else keepSoon();
  } catch (failure) {
    if (!(failure instanceof Refusal)) throw failure;
    const { problem } = failure;
    if (problem.kind === "changed-elsewhere" && problem.theirs === null) {
      // The file is gone from the folder: her words make it anew.
      tell({ is: "joined", version: "" });
      tell({ is: "typed" });
      rest = setTimeout(() => void keepNow(), 0);
      return;
    }
    if (problem.kind === "changed-elsewhere" && problem.theirs) {
      if (problem.theirs.text === words) tell({ is: "joined", version: problem.theirs.version });
      else tell({ is: "parted", theirs: problem.theirs });
      return;
    }
    tell({ is: "refused", words: problem.title });
    // What stands in the way may pass: a full disk, a server that is started again.
    rest = setTimeout(() => {
      if (state.value.page?.keeping === "refused") {
        tell({ is: "typed" });
        void keepNow();
      }
    }, 3000);
  }
}

function draft(name: string, held: Draft): void {
  try {
    localStorage.setItem(draftKey(name), JSON.stringify(held));
  } catch {
    // Without room in the browser the file alone keeps them.
  }
}

function forget(name: string): void {
  localStorage.removeItem(draftKey(name));
}

/** Words of a pattern that this browser still holds and the disk has not. */
export function unsaved(pattern: PatternText): Draft | null {
  const kept = localStorage.getItem(draftKey(pattern.name));
  if (!kept) return null;
  const found = JSON.parse(kept) as Draft;
  return found.text === pattern.text ? null : found;
}

/** Her words over the other text: both stay in the history. */
export async function keepMine(): Promise<void> {
  const page = state.value.page;
  if (!page?.theirs) return;
  tell({ is: "joined", version: page.theirs.version });
  tell({ is: "typed" });
  await keepNow();
}
