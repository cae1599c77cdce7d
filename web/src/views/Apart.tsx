import { keepMine } from "../session/keeping";
import { showPanel, takeTheirs } from "../session/session";
import { state } from "../state/store";

/** What could not be kept, and the two texts where somebody else has written too. Nothing is decided for her. */
export function Apart() {
  const { page } = state.value;
  if (!page) return null;
  if (page.theirs) {
    return (
      <div class="band band-fix" role="alert">
        <p>This pattern was changed elsewhere while you were writing: in another window, or by another program. Both texts are safe; which shall stand?</p>
        <div class="buttons">
          <button type="button" class="strong" onClick={() => void keepMine()}>
            Mine
          </button>
          <button
            type="button"
            class="strong"
            onClick={() => {
              takeTheirs();
              void showPanel("history");
            }}
          >
            Theirs
          </button>
        </div>
      </div>
    );
  }
  if (page.refusal) {
    return (
      <p class="band band-fix" role="alert">
        {page.refusal} Your words are in this window; it is tried again every few seconds.
      </p>
    );
  }
  return null;
}
