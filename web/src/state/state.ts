/** Everything the desk knows, in one value. Views look at it and never change it. */

import type {
  ChartAnswer,
  DeskAnswer,
  LeafletAnswer,
  MeasuresAnswer,
  PublishStep,
  Query,
  ReadAnswer,
  Revision,
  RevisionText,
} from "../server/shapes";

export const PANELS = ["rows", "chart", "measures", "leaflet", "publish", "history"] as const;
export type PanelName = (typeof PANELS)[number];

/** A query whose places are those of the text as it stands now, in the editor's units. */
export interface PlacedQuery extends Query {
  key: string;
  from: number;
  to: number;
  /** Where each mend of it stands now. */
  places: { from: number; to: number }[];
}

export type Keeping = "kept" | "keeping" | "waiting" | "refused";

export interface Page {
  name: string;
  example: boolean;
  /** What the text on disk was when we last agreed with it. */
  version: string;
  keeping: Keeping;
  /** Why it could not be kept, in one sentence. */
  refusal: string;
  /** The other text, where the file was changed by somebody else as well. */
  theirs: { text: string; version: string } | null;
}

export interface Why {
  part: string;
  label: string;
  size: number;
  lines: string[];
}

export interface State {
  desk: DeskAnswer | null;
  page: Page | null;
  read: ReadAnswer | null;
  queries: PlacedQuery[];
  /** The edit has answered for the text as it stands. */
  edited: boolean;
  size: number;
  units: "in" | "cm";
  /** The key of the query that is opened. */
  open: string | null;
  panel: PanelName | null;
  keys: boolean;
  notice: string;
  /** The notice has nothing to say any more when she types on. */
  passing: boolean;
  /** The sheet to paste a pattern into is shown on the shelf. */
  pasting: boolean;
  why: Why | null;
  measures: MeasuresAnswer | null;
  chart: ChartAnswer | null;
  chartPiece: string | null;
  leaflet: LeafletAnswer | null;
  paper: "A4" | "Letter";
  large: boolean;
  publishing: PublishStep | null;
  /** The folder to publish into, where she has named one. */
  publishInto: string | null;
  revisions: Revision[] | null;
  revision: { id: number; shown: RevisionText } | null;
  /** One sentence for what the opened panel could not show. */
  without: string;
  light: "light" | "dark" | "system";
}

export const EMPTY: State = {
  desk: null,
  page: null,
  read: null,
  queries: [],
  edited: false,
  size: 0,
  units: "in",
  open: null,
  panel: null,
  keys: false,
  notice: "",
  passing: false,
  pasting: false,
  why: null,
  measures: null,
  chart: null,
  chartPiece: null,
  leaflet: null,
  paper: "A4",
  large: false,
  publishing: null,
  publishInto: null,
  revisions: null,
  revision: null,
  without: "",
  light: "system",
};
