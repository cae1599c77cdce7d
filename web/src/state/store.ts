/** Holds the state for the views, and takes the messages. */

import { computed, signal } from "@preact/signals";
import { EMPTY, type State } from "./state";
import { type Message, update } from "./update";

const held = signal<State>(EMPTY);

/** The state as it is now; a view that reads it is drawn again when it changes. */
export const state = computed(() => held.value);

export function tell(message: Message): void {
  held.value = update(held.value, message);
}
