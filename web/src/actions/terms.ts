import { shift } from "../session/session";
import { state } from "../state/store";
import type { Action } from "./action";

export default {
  name: "terms",
  label: "Change between US and UK terms",
  key: "KeyT",
  group: "The page",
  can: (now) => now.read?.terms === "US" || now.read?.terms === "UK",
  run: () => shift(state.value.read?.terms === "UK" ? "US" : "UK"),
} satisfies Action;
