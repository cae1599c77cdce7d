/** Whether what lies beside the text on a wide window lies below it: the same width as in the sheets of style. */
export function narrow(): boolean {
  return matchMedia("(max-width: 60rem)").matches;
}

/** Whether the panel lies below the text. */
export function stacked(): boolean {
  return !matchMedia("(min-width: 72rem)").matches;
}
