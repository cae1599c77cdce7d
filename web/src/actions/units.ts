import { refreshPanel } from "../session/session";
import { state, tell } from "../state/store";
import type { Action } from "./action";

export default {
  name: "units",
  label: "Change between inches and centimetres",
  key: "KeyU",
  group: "The page",
  can: (now) => now.page !== null,
  run: async () => {
    tell({ is: "units", units: state.value.units === "in" ? "cm" : "in" });
    await refreshPanel();
  },
} satisfies Action;
