import { chooseSize } from "../session/queries";
import { state } from "../state/store";
import type { Action } from "./action";

const sizes = () => state.value.read?.sizes.length ?? 1;

export default [
  {
    name: "size_larger",
    label: "Next size",
    key: "BracketRight",
    group: "The page",
    can: (now) => (now.read?.sizes.length ?? 0) > 1,
    run: () => chooseSize((state.value.size + 1) % sizes()),
  },
  {
    name: "size_smaller",
    label: "Size before",
    key: "BracketLeft",
    group: "The page",
    can: (now) => (now.read?.sizes.length ?? 0) > 1,
    run: () => chooseSize((state.value.size + sizes() - 1) % sizes()),
  },
] satisfies Action[];
