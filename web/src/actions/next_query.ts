import { step } from "../session/queries";
import type { Action } from "./action";

export default {
  name: "next_query",
  label: "Next query",
  key: "KeyN",
  group: "Queries",
  can: (state) => state.queries.length > 0,
  run: () => step(1),
} satisfies Action;
