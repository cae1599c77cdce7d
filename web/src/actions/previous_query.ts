import { step } from "../session/queries";
import type { Action } from "./action";

export default {
  name: "previous_query",
  label: "Query before",
  key: "KeyB",
  group: "Queries",
  can: (state) => state.queries.length > 0,
  run: () => step(-1),
} satisfies Action;
