import { action, keyWords } from "../actions/all";
import { state } from "../state/store";

interface Props {
  name: string;
  /** Other words than the action's own. */
  words?: string;
  class?: string;
  pressed?: boolean;
}

/** A button for an action, with its key in the tip. */
export function Act({ name, words, class: look, pressed }: Props) {
  const act = action(name);
  return (
    <button
      type="button"
      class={look ?? "plain"}
      title={act.key ? `${act.label} (${keyWords(act.key)})` : act.label}
      aria-keyshortcuts={act.key ? `Alt+${act.key.replace(/^Key|^Digit/, "")}` : undefined}
      aria-pressed={pressed}
      disabled={!act.can(state.value)}
      onClick={() => void act.run()}
    >
      {words ?? act.label}
    </button>
  );
}
