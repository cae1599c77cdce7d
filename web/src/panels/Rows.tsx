import { why } from "../session/session";
import type { RowOfSizes } from "../server/shapes";
import { state, tell } from "../state/store";

/** Every row of every size, and the reason for each number. */
export function Rows() {
  const { read, size, why: reason } = state.value;
  if (!read) return null;
  const parts = byPart(read.rows);
  const coloured = read.rows.some((row) => row.colours.length > 0);
  return (
    <>
      <p class="quiet">Choose a number to see how it comes about.</p>
      {reason && (
        <section class="why" aria-live="polite">
          <header>
            <h3>
              {reason.label}, {read.sizes[reason.size]}
            </h3>
            <button type="button" class="plain small" onClick={() => tell({ is: "why", why: null })}>
              Put away
            </button>
          </header>
          <pre tabIndex={0}>{reason.lines.join("\n")}</pre>
        </section>
      )}
      <div class="table-place" tabIndex={0} role="region" aria-label="Rows of every size">
        <table class="figures">
          <thead>
            <tr>
              <th scope="col">Row</th>
              {coloured && <th scope="col">Yarn</th>}
              {read.sizes.map((name, place) => (
                <th scope="col" key={name} class={place === size ? "chosen" : ""}>
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          {parts.map(([part, rows]) => (
            <tbody key={part}>
              {part && (
                <tr>
                  <th scope="rowgroup" class="part-name" colSpan={read.sizes.length + (coloured ? 2 : 1)}>
                    <span>{part}</span>
                  </th>
                </tr>
              )}
              {rows.map((row, at) => (
                <tr key={`${at}-${row.label}`}>
                  <th scope="row">{row.labels[size] ?? row.label}</th>
                  {coloured && <td>{row.colours.join(", ")}</td>}
                  {row.worked.map((worked, place) => (
                    <td key={read.sizes[place]} class={place === size ? "chosen" : ""}>
                      <Figure row={row} worked={worked} place={place} />
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          ))}
        </table>
      </div>
    </>
  );
}

function Figure({ row, worked, place }: { row: RowOfSizes; worked: number | null; place: number }) {
  const label = row.labels[place];
  if (label === null || label === undefined) return <span class="quiet">–</span>;
  const stated = row.stated[place] ?? null;
  const off = stated !== null && worked !== null && stated !== worked;
  return (
    <button
      type="button"
      class={off ? "figure figure-off" : "figure"}
      onClick={() => void why(row.part, label, place, row.line)}
    >
      {off && (
        <span class="figure-stated">
          <del>{stated}</del>
          <span class="unseen"> written,</span>{" "}
        </span>
      )}
      {worked ?? "?"}
    </button>
  );
}

function byPart(rows: RowOfSizes[]): [string, RowOfSizes[]][] {
  const parts = new Map<string, RowOfSizes[]>();
  for (const row of rows) parts.set(row.part, [...(parts.get(row.part) ?? []), row]);
  return [...parts];
}
