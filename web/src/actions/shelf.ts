import { shelf, trying } from "../session/session";
import type { Action } from "./action";

export default {
  name: "shelf",
  label: "Back to the shelf",
  key: "KeyS",
  group: "The desk",
  can: (state) => state.page !== null,
  run: () => trying(shelf),
} satisfies Action;
