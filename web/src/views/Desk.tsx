import { state } from "../state/store";
import { KeyMap } from "./KeyMap";
import { Notice } from "./Notice";
import { PageView } from "./PageView";
import { Shelf } from "./Shelf";

/** The shelf where nothing is opened, else the page with its margins. */
export function Desk() {
  const { page, desk } = state.value;
  return (
    <>
      {page ? <PageView /> : desk ? <Shelf desk={desk} /> : <main class="waiting" aria-busy="true"><p>Fetching your patterns…</p></main>}
      <Notice />
      <KeyMap />
    </>
  );
}
