/** What happens over time: opening, following changes of others, filling the panels. */

import { putText } from "../editor/editor";
import { setWords } from "../editor/completion";
import { ask, patternPath, Refusal, send, WINDOW } from "../server/ask";
import type {
  ChartAnswer,
  DeskAnswer,
  LeafletAnswer,
  MeasuresAnswer,
  PatternText,
  PublishStep,
  Revision,
  RevisionText,
  WordsAnswer,
} from "../server/shapes";
import type { PanelName } from "../state/state";
import { state, tell } from "../state/store";
import { keepNow, keepSoon, unsaved } from "./keeping";
import { followQueries, readNow } from "./reading";
import { editor, moved, open, ready, text } from "./text";

/** What the editor calls upon while she types. */
export const watcher = {
  typed(): void {
    tell({ is: "typed" });
    readNow();
    keepSoon();
    panelSoon();
  },
  moved(): void {
    followQueries();
    moved();
  },
};

/** Fetches the folder, and opens the pattern that the address names. */
export async function start(): Promise<void> {
  await trying(async () => {
    tell({ is: "desk", desk: await ask<DeskAnswer>("GET", "/api/desk") });
    follow();
    await fromAddress();
  });
  window.addEventListener("hashchange", () => void trying(fromAddress));
  window.addEventListener("pagehide", () => void keepNow());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") void keepNow();
  });
}

async function fromAddress(): Promise<void> {
  const name = decodeURIComponent(location.hash.slice(1));
  if (!name) await shelf();
  else if (name !== state.value.page?.name) await openPattern(name);
}

/** Runs what may be refused; the sentence is shown and nothing else happens. */
export async function trying(work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (failure) {
    if (!(failure instanceof Refusal)) throw failure;
    tell({ is: "notice", words: failure.problem.title });
  }
}

export async function openPattern(name: string): Promise<void> {
  await keepNow();
  const pattern = await ask<PatternText>("GET", patternPath(name));
  tell({ is: "opened", pattern });
  location.hash = encodeURIComponent(name);
  open(pattern.text);
  const held = unsaved(pattern);
  if (held) {
    putText(await ready(), held.text);
    tell({ is: "notice", words: "Words that had not reached the disk were still here, and are back." });
    if (held.version !== pattern.version) tell({ is: "parted", theirs: { text: pattern.text, version: pattern.version } });
  }
  readNow();
  void refreshPanel();
}

/** Back to the shelf, with what is on it now. */
export async function shelf(): Promise<void> {
  await keepNow();
  tell({ is: "closed" });
  if (location.hash) history.replaceState(null, "", location.pathname);
  tell({ is: "desk", desk: await ask<DeskAnswer>("GET", "/api/desk") });
}

/** A new pattern from words that were pasted, or from an example. */
export async function newPattern(title: string, words: string): Promise<void> {
  const made = await ask<{ name: string }>("POST", "/api/patterns", { title, text: words });
  await openPattern(made.name);
}

/** Takes the text of the other side; her own stays in the history. */
export function takeTheirs(): void {
  const page = state.value.page;
  const view = editor();
  if (!page?.theirs || !view) return;
  const { theirs } = page;
  tell({ is: "joined", version: theirs.version });
  putText(view, theirs.text);
}

function follow(): void {
  const changes = new EventSource("/api/changes");
  changes.addEventListener("message", (event: MessageEvent<string>) => {
    const heard = JSON.parse(event.data) as { name: string; version: string; by: string };
    const page = state.value.page;
    if (heard.by === WINDOW || page?.name !== heard.name || heard.version === page.version) return;
    void trying(async () => {
      const theirs = await ask<PatternText>("GET", patternPath(heard.name));
      const now = state.value.page;
      const view = editor();
      if (!now || !view || now.name !== heard.name || theirs.version === now.version) return;
      if (now.keeping === "kept") {
        tell({ is: "joined", version: theirs.version });
        putText(view, theirs.text);
        tell({ is: "joined", version: theirs.version });
        tell({ is: "notice", words: "The file was changed outside this window; the page follows it. Undo brings your words back." });
      } else if (theirs.text !== text()) tell({ is: "parted", theirs });
    });
  });
}

export async function words(terms: string): Promise<void> {
  setWords(await ask<WordsAnswer>("GET", `/api/words?terms=${encodeURIComponent(terms)}`));
}

// The panels.

let panelRest: ReturnType<typeof setTimeout> | undefined;

function panelSoon(): void {
  clearTimeout(panelRest);
  panelRest = setTimeout(() => void refreshPanel(), 600);
}

export async function showPanel(panel: PanelName | null): Promise<void> {
  tell({ is: "panel", panel });
  await refreshPanel();
}

/** Fills the opened panel with what the text says now. */
export async function refreshPanel(): Promise<void> {
  const { panel, page } = state.value;
  if (!panel || !page) return;
  try {
    await FILL[panel]();
  } catch (failure) {
    if (!(failure instanceof Refusal)) throw failure;
    tell({ is: "without", words: failure.problem.title });
  }
}

const FILL: Record<PanelName, () => Promise<void>> = {
  rows: async () => {},
  publish: async () => {},
  measures: async () => tell({ is: "measures", measures: await ask<MeasuresAnswer>("POST", "/api/measures", { text: text(), name: state.value.page?.name ?? null }) }),
  chart: async () => {
    const { size, chartPiece } = state.value;
    tell({ is: "chart", chart: await ask<ChartAnswer>("POST", "/api/chart", { text: text(), size, part: chartPiece }) });
  },
  leaflet: async () => {
    const { paper, large } = state.value;
    tell({ is: "leaflet", leaflet: await ask<LeafletAnswer>("POST", "/api/leaflet", { text: text(), paper, large }) });
  },
  history: async () => {
    const page = state.value.page;
    if (!page || page.example) return;
    await keepNow();
    tell({ is: "revisions", revisions: await ask<Revision[]>("GET", `${patternPath(page.name)}/revisions`) });
  },
};

export async function why(part: string, label: string, size: number, line: number): Promise<void> {
  await trying(async () => {
    const answer = await ask<{ lines: string[] }>("POST", "/api/why", { text: text(), size, part, label, line });
    tell({ is: "why", why: { part, label, size, lines: answer.lines } });
  });
}

export async function showRevision(id: number): Promise<void> {
  const page = state.value.page;
  if (!page) return;
  await trying(async () => {
    const shown = await ask<RevisionText>("GET", `${patternPath(page.name)}/revisions/${id}`);
    tell({ is: "revision", id, shown });
  });
}

/** Brings back an earlier text as a change of its own, which can be undone. */
export async function haveBack(): Promise<void> {
  const view = editor();
  const { revision } = state.value;
  if (!view || !revision) return;
  putText(view, revision.shown.text);
  tell({ is: "no-revision" });
  await keepNow();
  await refreshPanel();
}

/** Makes page, leaflets and charts, and tells how far it has come. */
export async function publish(anyway: boolean): Promise<void> {
  const page = state.value.page;
  if (!page) return;
  await keepNow();
  tell({ is: "publishing", step: { done: 0, of: 1, what: "Working it out" } });
  try {
    const answer = await send("POST", "/api/publish", { name: page.name, text: text(), into: state.value.publishInto?.trim() || null, anyway });
    if (!answer.ok || !answer.body) {
      const problem = (await answer.json()) as { title: string };
      tell({ is: "publishing", step: { problem: problem.title } });
      return;
    }
    for await (const step of events(answer.body)) tell({ is: "publishing", step });
  } catch (failure) {
    tell({ is: "publishing", step: { problem: failure instanceof Refusal ? failure.problem.title : String(failure) } });
  }
}

async function* events(body: ReadableStream<Uint8Array>): AsyncGenerator<PublishStep> {
  const reader = body.getReader();
  const decoder = new TextDecoder();
  let held = "";
  for (;;) {
    const { value, done } = await reader.read();
    if (done) return;
    held += decoder.decode(value, { stream: true });
    const parts = held.split("\n\n");
    held = parts.pop() ?? "";
    for (const part of parts) {
      const data = part.split("\n").filter((line) => line.startsWith("data:")).map((line) => line.slice(5)).join("");
      if (data) yield JSON.parse(data) as PublishStep;
    }
  }
}

/** US words for UK ones and back, as one change. */
export async function shift(to: string): Promise<void> {
  const view = editor();
  if (!view) return;
  await trying(async () => putText(view, (await ask<{ text: string }>("POST", "/api/shift", { text: text(), to })).text));
}

export async function tidy(): Promise<void> {
  const view = editor();
  if (!view) return;
  await trying(async () => {
    const answer = await ask<{ text: string; changes: number }>("POST", "/api/tidy", { text: text() });
    putText(view, answer.text);
    tell({ is: "notice", words: answer.changes === 0 ? "The rows are in house style already." : `${answer.changes} rows were set in house style; undo takes it back.`, passing: true });
  });
}
