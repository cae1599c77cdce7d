import { state, tell } from "../state/store";

/** One sentence at the foot of the desk; it goes away when she says so, and never covers the text. */
export function Notice() {
  const { notice } = state.value;
  return (
    <div class={notice ? "notice" : "notice notice-empty"} role="status">
      {notice && (
        <>
          <p>{notice}</p>
          <button type="button" class="plain" onClick={() => tell({ is: "notice", words: "" })}>
            Seen
          </button>
        </>
      )}
    </div>
  );
}
