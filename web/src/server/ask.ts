/** Asks the server; what stands in the way comes back as a `Refusal` with a sentence for her. */

import type { Problem } from "./shapes";

export class Refusal extends Error {
  constructor(
    readonly status: number,
    readonly problem: Problem,
  ) {
    super(problem.title);
  }
}

/** This window, so that the server can tell two of them apart. */
export const WINDOW = crypto.randomUUID();

const GONE: Problem = {
  title: "roundhand is not answering. Your words stay here; start it again from the terminal and they will be saved.",
  kind: "gone",
};

export async function ask<Answer>(
  method: "GET" | "POST" | "PUT",
  path: string,
  body?: unknown,
  signal?: AbortSignal,
): Promise<Answer> {
  const answer = await send(method, path, body, signal);
  if (!answer.ok) throw new Refusal(answer.status, await problemOf(answer));
  return (await answer.json()) as Answer;
}

/** The raw answer, for what comes in pieces. */
export async function send(method: string, path: string, body?: unknown, signal?: AbortSignal): Promise<Response> {
  try {
    return await fetch(path, {
      method,
      credentials: "same-origin",
      headers: { "content-type": "application/json", "x-window": WINDOW },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      ...(signal ? { signal } : {}),
    });
  } catch (failure) {
    if (signal?.aborted) throw failure;
    throw new Refusal(0, GONE);
  }
}

async function problemOf(answer: Response): Promise<Problem> {
  try {
    return (await answer.json()) as Problem;
  } catch {
    return { title: "Something went wrong at the server; nothing was lost.", kind: "unknown" };
  }
}

export function isAborted(failure: unknown): boolean {
  return failure instanceof DOMException && failure.name === "AbortError";
}

/** The path of a pattern, with every part of its name made safe. */
export function patternPath(name: string): string {
  return `/api/patterns/${name.split("/").map(encodeURIComponent).join("/")}`;
}
