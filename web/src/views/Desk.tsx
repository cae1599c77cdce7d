import { state } from "../state/store";
import { Notice } from "./Notice";
import { PageView } from "./PageView";
import { Shelf } from "./Shelf";

/** The shelf where nothing is opened, else the page with its margins. */
export function Desk() {
  const { page, desk } = state.value;
  return (
    <>
      <div class="scroll">
        {page ? <PageView /> : desk ? <Shelf desk={desk} /> : <main class="waiting" aria-busy="true"><p>Fetching your patterns…</p></main>}
      </div>
      <Notice />
    </>
  );
}
