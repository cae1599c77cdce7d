/** What the server answers, as it comes: offsets count code points. */

export interface PatternName {
  name: string;
  title: string;
  changed: string;
  sizes: number;
}

export interface ExampleName {
  name: string;
  title: string;
}

export interface DeskAnswer {
  folder: string;
  patterns: PatternName[];
  left_out: string;
  examples: ExampleName[];
  version: string;
  writable: boolean;
  publish: boolean;
}

export interface PatternText {
  name: string;
  text: string;
  version: string;
  example: boolean;
}

export interface Saved {
  version: string;
  revision: number | null;
  saved: string;
}

export interface MarginLine {
  line: number;
  label: string;
  worked: number | null;
  about: boolean;
  stated: number | null;
  agrees: boolean | null;
  left: number;
  colours: string[];
}

export interface RowOfSizes {
  part: string;
  label: string;
  labels: (string | null)[];
  line: number;
  kind: "row" | "round";
  colours: string[];
  worked: (number | null)[];
  stated: (number | null)[];
}

export type MarkKind =
  | "stitch"
  | "count"
  | "colour"
  | "place"
  | "repeat"
  | "label"
  | "size"
  | "key"
  | "heading"
  | "note"
  | "gap";

export interface TextMark {
  start: number;
  end: number;
  kind: MarkKind;
}

export interface ReadAnswer {
  number: number;
  title: string;
  sizes: string[];
  size: number;
  terms: string;
  units: string;
  summary: string;
  look: { label: string; line: number; size: string }[];
  lines: MarginLine[];
  rows: RowOfSizes[];
  marks: TextMark[];
}

export type Weight = "Fix" | "Look" | "Consider";

export interface Mend {
  start: number;
  end: number;
  text: string;
  certainty: "sure" | "ask";
  before: string;
  after: string;
}

export interface Query {
  name: string;
  weight: Weight;
  headline: string;
  because: string;
  help: string;
  /** The label of its row, empty for none. */
  row: string;
  line: number;
  column: number;
  start: number;
  end: number;
  /** A short word beside the words at fault. */
  label: string;
  /** How many follow from it. */
  follow: number;
  sizes: string[];
  notes: { start: number; end: number; label: string }[];
  edits: Mend[];
  leave: string;
  follows: string | null;
}

export interface QueriesAnswer {
  number: number;
  queries: Query[];
}

export interface Table {
  name: string;
  rows: { what: string; unit: string; values: string[] }[];
}

export interface MeasuresAnswer {
  headings: string[];
  pieces: Table[];
  yarn: { label: string; rows: Table["rows"]; sure: string }[];
  said: string[];
}

export interface ChartAnswer {
  title: string;
  svg: string;
  words: string[];
  pieces: string[];
}

export interface LeafletAnswer {
  title: string;
  pages: string[];
  /** All that stands on them. */
  words: string;
}

export interface Revision {
  id: number;
  saved: string;
  words: string;
  by: string;
}

export interface RevisionText {
  text: string;
  difference: { kind: "same" | "out" | "in"; text: string }[];
}

export interface WordsAnswer {
  stitches: { word: string; name: string; says: string }[];
  words: string[];
  keys: string[];
  headings: string[];
}

export interface PublishStep {
  done?: number;
  of?: number;
  what?: string;
  folder?: string;
  files?: { name: string; url: string }[];
  problem?: string;
}

/** What stands in the way, in one sentence; `kind` is a word that the page acts upon. */
export interface Problem {
  title: string;
  kind: string;
  theirs?: { text: string; version: string } | null;
}
