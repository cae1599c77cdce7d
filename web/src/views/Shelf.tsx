import { useState } from "preact/hooks";
import { newPattern, openPattern, trying } from "../session/session";
import type { DeskAnswer } from "../server/shapes";
import { state, tell } from "../state/store";
import { Act } from "./Act";
import { KeyMap } from "./KeyMap";
import { MARK } from "./mark";
import { when } from "./when";

/** The first screen: what lies in the folder, and the ways to begin. */
export function Shelf({ desk }: { desk: DeskAnswer }) {
  const { pasting, keys } = state.value;
  return (
    <div class="shelf">
      <header class="shelf-head">
        <h1 class="wordmark">
          {MARK} roundhand
        </h1>
        <nav aria-label="Desk">
          <Act name="light" words={`Light: ${LIGHTS[state.value.light]}`} />
          <Act name="keys" words="Keys" />
        </nav>
      </header>
      <main>
        {!desk.writable && (
          <p class="band band-look" role="alert">
            The folder “{desk.folder}” may not be written to, so that changes stay in this window. Copy the text out, or open the desk in another folder.
          </p>
        )}
        <section class="beginnings" aria-label="Begin">
          <div class="beginning">
            <h2>Paste my pattern</h2>
            <p>As you have it, from a word processor, a mail or a web page. Nothing has to be set out anew.</p>
            <button type="button" class="strong" aria-expanded={pasting} disabled={!desk.writable} onClick={() => tell({ is: "pasting", on: !pasting })}>
              Paste my pattern
            </button>
          </div>
          <div class="beginning">
            <h2>Look at an example</h2>
            <p>Patterns of our own, worked out and checked. They cannot be spoilt: a copy is yours to change.</p>
            <ul class="plain-list">
              {desk.examples.map((example) => (
                <li key={example.name}>
                  <button type="button" class="link" onClick={() => void trying(() => openPattern(example.name))}>
                    {example.title}
                  </button>
                </li>
              ))}
            </ul>
          </div>
        </section>
        {pasting && <Paste />}
        <section class="folder" aria-labelledby="folder-heading">
          <h2 id="folder-heading">
            In “{desk.folder}”
          </h2>
          {desk.patterns.length === 0 ? (
            <p class="quiet">There is no pattern in this folder yet. What you paste will be kept here as a plain text file.</p>
          ) : (
            <ul class="pattern-list">
              {desk.patterns.map((pattern) => (
                <li key={pattern.name}>
                  <button type="button" class="pattern" onClick={() => void trying(() => openPattern(pattern.name))}>
                    <span class="pattern-title">{pattern.title}</span>
                    <span class="pattern-about">
                      {pattern.sizes === 1 ? "one size" : `${pattern.sizes} sizes`} · {pattern.name}
                    </span>
                    <time class="pattern-time" dateTime={pattern.changed}>
                      {when(pattern.changed)}
                    </time>
                  </button>
                </li>
              ))}
            </ul>
          )}
          {desk.left_out && <p class="quiet left-out">{desk.left_out}</p>}
        </section>
        <p class="promise">Everything stays on this computer.</p>
      </main>
      {keys && <KeyMap />}
    </div>
  );
}

const LIGHTS = { system: "as the computer", light: "day", dark: "lamp" } as const;

function Paste() {
  const [words, setWords] = useState("");
  const title = (words.trim().split("\n")[0] ?? "").replace(/^[#*\s]+|[*\s]+$/g, "").slice(0, 80);
  return (
    <form
      class="paste"
      onSubmit={(event) => {
        event.preventDefault();
        if (words.trim()) void trying(() => newPattern(title || "New pattern", words));
      }}
    >
      <label for="paste-words">Your pattern, as it is</label>
      <textarea
        id="paste-words"
        rows={14}
        value={words}
        spellcheck={false}
        ref={(area) => area?.focus({ preventScroll: true })}
        onInput={(event) => setWords(event.currentTarget.value)}
      />
      <div class="buttons">
        <button type="submit" class="strong" disabled={!words.trim()}>
          Read it
        </button>
        <button type="button" class="plain" onClick={() => tell({ is: "pasting", on: false })}>
          Not now
        </button>
      </div>
    </form>
  );
}
