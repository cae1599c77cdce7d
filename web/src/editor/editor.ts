/** The page in the middle: plain text, with what is known of it in its margins. */

import { autocompletion, completionKeymap } from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, isolateHistory } from "@codemirror/commands";
import { highlightSelectionMatches, search, searchKeymap } from "@codemirror/search";
import { EditorState, type Extension, Transaction } from "@codemirror/state";
import { drawSelection, EditorView, highlightActiveLine, keymap, type ViewUpdate } from "@codemirror/view";
import { answers, pencilled } from "./answers";
import { complete } from "./completion";

export interface Watcher {
  /** The words changed; `text` gives them. */
  typed(): void;
  /** Places moved, or lines were laid out anew. */
  moved(): void;
}

export function makeEditor(parent: HTMLElement, watcher: Watcher): EditorView {
  return new EditorView({ parent, state: EditorState.create({ extensions: extensions(watcher) }) });
}

function extensions(watcher: Watcher): Extension {
  return [
    EditorView.cspNonce.of(document.querySelector<HTMLMetaElement>('meta[name="nonce"]')?.content ?? ""),
    history(),
    drawSelection(),
    highlightActiveLine(),
    highlightSelectionMatches(),
    EditorView.lineWrapping,
    search({ top: true }),
    EditorState.phrases.of(PHRASES),
    EditorView.scrollMargins.of(behindTheBar),
    autocompletion({ override: [complete], icons: false, activateOnTypingDelay: 80 }),
    keymap.of([...defaultKeymap, ...historyKeymap, ...searchKeymap, ...completionKeymap]),
    answers,
    EditorView.contentAttributes.of({ "aria-label": "The pattern", spellcheck: "false", autocorrect: "off", autocapitalize: "off" }),
    EditorView.updateListener.of((change: ViewUpdate) => {
      if (change.docChanged) watcher.typed();
      const queriesChanged = change.startState.field(pencilled) !== change.state.field(pencilled);
      if (change.docChanged || change.geometryChanged || change.heightChanged || queriesChanged) watcher.moved();
    }),
  ];
}

/** What the parts that we did not write say to her. */
const PHRASES = {
  "Find": "Find",
  "Replace": "Put instead",
  "next": "Next",
  "previous": "Before",
  "all": "All",
  "match case": "capitals count",
  "by word": "whole words",
  "replace": "Put",
  "replace all": "Put everywhere",
  "close": "Put away",
  "current match": "found",
  "replaced match on line $": "put in line $",
  "replaced $ matches": "put in $ places",
  "on line": "in line",
  "Completions": "Words that fit",
};

/** What stays in sight above the page, where it does, is no place for the cursor to go. */
function behindTheBar(view: EditorView): { top: number; bottom: number } {
  const bar = view.dom.closest(".desk")?.querySelector<HTMLElement>(".above");
  const stays = bar && getComputedStyle(bar).position === "sticky";
  return { top: stays ? bar.offsetHeight : 0, bottom: 24 };
}

/** Puts a whole text in the place of what is there, keeping what is alike, so that it can be undone and the cursor stays. */
export function putText(view: EditorView, text: string): void {
  const before = view.state.doc.toString();
  if (before === text) return;
  let start = 0;
  const shorter = Math.min(before.length, text.length);
  while (start < shorter && before[start] === text[start]) start += 1;
  let end = 0;
  while (end < shorter - start && before[before.length - 1 - end] === text[text.length - 1 - end]) end += 1;
  view.dispatch({
    changes: { from: start, to: before.length - end, insert: text.slice(start, text.length - end) },
    annotations: isolateHistory.of("full"),
  });
}

/** Opens another pattern: nothing of the one before can be undone into it. */
export function openText(view: EditorView, text: string, watcher: Watcher): void {
  view.setState(EditorState.create({ doc: text, extensions: extensions(watcher) }));
  view.dispatch({ annotations: Transaction.addToHistory.of(false) });
}

/** Changes a place as one step that one undo takes back. */
export function change(view: EditorView, from: number, to: number, text: string, select?: number): void {
  view.dispatch({
    changes: { from, to, insert: text },
    ...(select === undefined ? {} : { selection: { anchor: select } }),
    annotations: isolateHistory.of("full"),
    scrollIntoView: select !== undefined,
  });
}
