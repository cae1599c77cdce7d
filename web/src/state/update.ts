/** The one place where the state changes: a message and the state before give the state after. */

import type {
  ChartAnswer,
  DeskAnswer,
  LeafletAnswer,
  MeasuresAnswer,
  PatternText,
  PublishStep,
  ReadAnswer,
  Revision,
  RevisionText,
} from "../server/shapes";
import type { PanelName, PlacedQuery, State, Why } from "./state";

export type Message =
  | { is: "desk"; desk: DeskAnswer }
  | { is: "opened"; pattern: PatternText }
  | { is: "closed" }
  | { is: "pasting"; on: boolean }
  | { is: "typed" }
  | { is: "read"; read: ReadAnswer }
  | { is: "queries"; queries: PlacedQuery[] }
  | { is: "moved"; queries: PlacedQuery[] }
  | { is: "size"; size: number }
  | { is: "units"; units: "in" | "cm" }
  | { is: "query"; key: string | null }
  | { is: "panel"; panel: PanelName | null }
  | { is: "keys"; on: boolean }
  | { is: "notice"; words: string; passing?: boolean }
  | { is: "keeping" }
  | { is: "kept"; version: string }
  | { is: "refused"; words: string }
  | { is: "parted"; theirs: { text: string; version: string } }
  | { is: "joined"; version: string }
  | { is: "why"; why: Why | null }
  | { is: "measures"; measures: MeasuresAnswer }
  | { is: "chart"; chart: ChartAnswer }
  | { is: "chart-piece"; piece: string | null }
  | { is: "leaflet"; leaflet: LeafletAnswer }
  | { is: "paper"; paper: "A4" | "Letter"; large: boolean }
  | { is: "publishing"; step: PublishStep | null }
  | { is: "publish-into"; into: string }
  | { is: "revisions"; revisions: Revision[] }
  | { is: "revision"; id: number; shown: RevisionText }
  | { is: "no-revision" }
  | { is: "without"; words: string }
  | { is: "light"; light: State["light"] };

export function update(state: State, message: Message): State {
  switch (message.is) {
    case "desk":
      return { ...state, desk: message.desk };
    case "opened":
      return {
        ...state,
        ...CLEARED,
        page: {
          name: message.pattern.name,
          example: message.pattern.example,
          version: message.pattern.version,
          keeping: "kept",
          refusal: "",
          theirs: null,
        },
        pasting: false,
        notice: "",
        size: 0,
      };
    case "closed":
      return { ...state, ...CLEARED, page: null, panel: null, notice: "" };
    case "pasting":
      return { ...state, pasting: message.on };
    case "typed":
      return { ...state, edited: false, notice: state.passing ? "" : state.notice, page: state.page && { ...state.page, keeping: "waiting" } };
    case "read": {
      const size = Math.min(state.size, Math.max(0, message.read.sizes.length - 1));
      return { ...state, read: message.read, size, units: state.read ? state.units : unitsOf(message.read) };
    }
    case "queries": {
      const open = message.queries.some((query) => query.key === state.open) ? state.open : null;
      return { ...state, queries: message.queries, open, edited: true };
    }
    case "moved":
      return { ...state, queries: message.queries };
    case "size":
      return { ...state, size: message.size, why: null };
    case "units":
      return { ...state, units: message.units, measures: null };
    case "query":
      return { ...state, open: message.key };
    case "panel":
      return { ...state, panel: message.panel, keys: false, without: "", why: null, revision: null };
    case "keys":
      return { ...state, keys: message.on };
    case "notice":
      return { ...state, notice: message.words, passing: message.passing ?? false };
    case "keeping":
      return { ...state, page: state.page && { ...state.page, keeping: "keeping" } };
    case "kept": {
      if (!state.page) return state;
      // Words typed while the server was writing still wait.
      const keeping = state.page.keeping === "keeping" ? "kept" : state.page.keeping;
      return { ...state, page: { ...state.page, version: message.version, keeping, refusal: "" } };
    }
    case "refused":
      return { ...state, page: state.page && { ...state.page, keeping: "refused", refusal: message.words } };
    case "parted":
      return { ...state, page: state.page && { ...state.page, keeping: "refused", theirs: message.theirs, refusal: "" } };
    case "joined":
      return {
        ...state,
        page: state.page && { ...state.page, version: message.version, theirs: null, refusal: "", keeping: "kept" },
      };
    case "why":
      return { ...state, why: message.why };
    case "measures":
      return { ...state, measures: message.measures, without: "" };
    case "chart":
      return { ...state, chart: message.chart, without: "" };
    case "chart-piece":
      return { ...state, chartPiece: message.piece };
    case "leaflet":
      return { ...state, leaflet: message.leaflet, without: "" };
    case "paper":
      return { ...state, paper: message.paper, large: message.large };
    case "publishing":
      return { ...state, publishing: message.step };
    case "publish-into":
      return { ...state, publishInto: message.into };
    case "revisions":
      return { ...state, revisions: message.revisions, without: "" };
    case "revision":
      return { ...state, revision: { id: message.id, shown: message.shown } };
    case "no-revision":
      return { ...state, revision: null };
    case "without":
      return { ...state, without: message.words };
    case "light":
      return { ...state, light: message.light };
  }
}

const CLEARED = {
  read: null,
  queries: [],
  edited: false,
  open: null,
  why: null,
  measures: null,
  chart: null,
  chartPiece: null,
  leaflet: null,
  publishing: null,
  publishInto: null,
  revisions: null,
  revision: null,
  without: "",
} satisfies Partial<State>;

function unitsOf(read: ReadAnswer): "in" | "cm" {
  return read.units === "cm" ? "cm" : "in";
}
