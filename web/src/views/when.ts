/** When something was kept: the time of today to the second, another day with its date. */
export function when(time: string, now = new Date()): string {
  const then = new Date(time);
  if (then.toDateString() === now.toDateString()) return `today, ${then.toLocaleTimeString(undefined, { timeStyle: "medium" })}`;
  return then.toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
}
