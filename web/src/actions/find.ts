import { openSearchPanel } from "@codemirror/search";
import { editor } from "../session/text";
import type { Action } from "./action";

export default {
  name: "find",
  label: "Find and replace",
  key: "KeyF",
  group: "The page",
  can: (state) => state.page !== null,
  run: () => {
    const view = editor();
    if (view) openSearchPanel(view);
  },
} satisfies Action;
