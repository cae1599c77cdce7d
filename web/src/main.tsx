import "./styles/faces.css";
import "./styles/palette.css";
import "./styles/tokens.css";
import "./styles/base.css";
import "./styles/desk.css";
import "./styles/page.css";
import "./styles/margins.css";
import "./styles/panels.css";
import { render } from "preact";
import { ACTIONS } from "./actions/all";
import { readLight } from "./session/light";
import { start } from "./session/session";
import { state } from "./state/store";
import { Desk } from "./views/Desk";

readLight();
const place = document.getElementById("desk");
if (place) render(<Desk />, place);
void start();

document.addEventListener(
  "keydown",
  (event) => {
    if (!event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const wanted = ACTIONS.find((action) => action.key === event.code);
    if (!wanted?.can(state.value)) return;
    event.preventDefault();
    event.stopPropagation();
    void wanted.run();
  },
  true,
);
