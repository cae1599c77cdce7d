/** The one editor of this window, and what is asked of it by name. */

import type { EditorView } from "@codemirror/view";
import { makeEditor, openText, type Watcher } from "../editor/editor";

let view: EditorView | null = null;
let watching: Watcher = { typed: () => {}, moved: () => {} };
const waiters = new Set<() => void>();

/** Builds the editor in its place on the page. */
export function mount(parent: HTMLElement, watcher: Watcher): EditorView {
  watching = watcher;
  view = makeEditor(parent, watcher);
  return view;
}

export function unmount(): void {
  view?.destroy();
  view = null;
}

export function editor(): EditorView | null {
  return view;
}

export function text(): string {
  return view?.state.doc.toString() ?? "";
}

export function open(words: string): void {
  if (view) openText(view, words, watching);
}

/** Called whenever the places on the page may have moved. */
export function onMoved(heard: () => void): () => void {
  waiters.add(heard);
  return () => waiters.delete(heard);
}

export function moved(): void {
  for (const heard of waiters) heard();
}
