/** The one editor of this window, and what is asked of it by name. */

import type { EditorView } from "@codemirror/view";
import { makeEditor, openText, type Watcher } from "../editor/editor";

let view: EditorView | null = null;
let watching: Watcher = { typed: () => {}, moved: () => {} };
/** A text that was opened before its place on the page was built. */
let waiting: string | null = null;
const mounted: ((view: EditorView) => void)[] = [];
const waiters = new Set<() => void>();

/** Builds the editor in its place on the page. */
export function mount(parent: HTMLElement, watcher: Watcher): EditorView {
  watching = watcher;
  view = makeEditor(parent, watcher);
  if (waiting !== null) openText(view, waiting, watcher);
  waiting = null;
  for (const ready of mounted.splice(0)) ready(view);
  return view;
}

/** The editor as soon as it has its place on the page, with the text that was opened in it. */
export function ready(): Promise<EditorView> {
  return view ? Promise.resolve(view) : new Promise((resolve) => mounted.push(resolve));
}

export function unmount(): void {
  view?.destroy();
  view = null;
}

export function editor(): EditorView | null {
  return view;
}

export function text(): string {
  return view?.state.doc.toString() ?? waiting ?? "";
}

export function open(words: string): void {
  if (view) openText(view, words, watching);
  else waiting = words;
}

/** Called whenever the places on the page may have moved. */
export function onMoved(heard: () => void): () => void {
  waiters.add(heard);
  return () => waiters.delete(heard);
}

export function moved(): void {
  for (const heard of waiters) heard();
}
