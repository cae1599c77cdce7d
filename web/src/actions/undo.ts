import { redo, undo } from "@codemirror/commands";
import { editor } from "../session/text";
import type { Action } from "./action";

const back = (what: typeof undo) => () => {
  const view = editor();
  if (view) what(view);
  view?.focus();
};

export default [
  { name: "undo", label: "Undo", key: "KeyZ", group: "The page", can: (state) => state.page !== null, run: back(undo) },
  { name: "redo", label: "Do again", key: "KeyY", group: "The page", can: (state) => state.page !== null, run: back(redo) },
] satisfies Action[];
