/** What a person can do at the desk. An action is a file here: a name, a label, a key and what it does. */

import type { State } from "../state/state";

export interface Action {
  /** Stable and whole words. */
  name: string;
  /** What the button and the map of keys say. */
  label: string;
  /** As `event.code` with Alt held, such as `KeyN`; none for what has a button alone. */
  key?: string;
  /** Under which heading the map of keys shows it. */
  group: "Queries" | "Panels" | "The page" | "The desk";
  /** Whether it can be done now. */
  can(state: State): boolean;
  run(): void | Promise<void>;
}
