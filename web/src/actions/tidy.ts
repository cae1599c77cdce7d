import { tidy } from "../session/session";
import type { Action } from "./action";

export default {
  name: "tidy",
  label: "Set the rows in house style",
  key: "KeyH",
  group: "The page",
  can: (state) => state.page !== null,
  run: tidy,
} satisfies Action;
