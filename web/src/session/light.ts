/** Day or lamp: the computer's choice unless she has made one. */

import { state, tell } from "../state/store";

const NEXT = { system: "light", light: "dark", dark: "system" } as const;
const KEY = "roundhand:light";

export function readLight(): void {
  const kept = document.documentElement.dataset["light"];
  if (kept === "light" || kept === "dark") tell({ is: "light", light: kept });
}

export function setLight(): void {
  const light = NEXT[state.value.light];
  tell({ is: "light", light });
  if (light === "system") {
    delete document.documentElement.dataset["light"];
    localStorage.removeItem(KEY);
  } else {
    document.documentElement.dataset["light"] = light;
    localStorage.setItem(KEY, light);
  }
}
