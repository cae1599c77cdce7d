import { mend, opened } from "../session/queries";
import type { Action } from "./action";

export default {
  name: "mend",
  label: "Mend it as shown",
  key: "KeyM",
  group: "Queries",
  can: (state) => (opened(state)?.edits.length ?? 0) > 0 && state.edited,
  run: () => mend(0),
} satisfies Action;
