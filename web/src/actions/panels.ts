import { showPanel } from "../session/session";
import { PANELS, type PanelName } from "../state/state";
import { state } from "../state/store";
import type { Action } from "./action";

export const LABELS: Record<PanelName, string> = {
  rows: "Rows",
  chart: "Chart",
  measures: "Measures and yarn",
  leaflet: "Leaflet",
  publish: "Publish",
  history: "History",
};

export default PANELS.map(
  (panel, place): Action => ({
    name: panel,
    label: LABELS[panel],
    key: `Digit${place + 1}`,
    group: "Panels",
    can: (now) => now.page !== null,
    run: () => showPanel(state.value.panel === panel ? null : panel),
  }),
);
