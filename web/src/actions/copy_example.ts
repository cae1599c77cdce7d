import { newPattern, trying } from "../session/session";
import { text } from "../session/text";
import { state } from "../state/store";
import type { Action } from "./action";

export default {
  name: "copy_example",
  label: "Make a copy of your own",
  key: "KeyC",
  group: "The page",
  can: (now) => now.page?.example === true,
  run: () => trying(() => newPattern(state.value.read?.title ?? "Example", text())),
} satisfies Action;
