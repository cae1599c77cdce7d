import { state, tell } from "../state/store";
import type { Action } from "./action";

export default {
  name: "keys",
  label: "Map of keys",
  key: "KeyK",
  group: "The desk",
  can: () => true,
  run: () => tell({ is: "keys", on: !state.value.keys }),
} satisfies Action;
