import { editor } from "../session/text";
import type { Action } from "./action";

export default {
  name: "write",
  label: "Into the text",
  key: "KeyE",
  group: "The desk",
  can: (state) => state.page !== null,
  run: () => editor()?.focus(),
} satisfies Action;
