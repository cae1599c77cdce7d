import { setLight } from "../session/light";
import type { Action } from "./action";

export default {
  name: "light",
  label: "Day, lamp, or as the computer has it",
  key: "KeyD",
  group: "The desk",
  can: () => true,
  run: setLight,
} satisfies Action;
