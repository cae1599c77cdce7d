import { leave, opened } from "../session/queries";
import type { Action } from "./action";

export default {
  name: "leave",
  label: "Leave it, with a word why",
  key: "KeyL",
  group: "Queries",
  can: (state) => Boolean(opened(state)?.leave) && state.edited,
  run: () => leave(),
} satisfies Action;
