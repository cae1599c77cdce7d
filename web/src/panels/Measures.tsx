import type { Table } from "../server/shapes";
import { state } from "../state/store";
import { inUnits } from "./units";

/** Finished measurements, and yarn by colour and size. */
export function Measures() {
  const { measures, size, without, units } = state.value;
  if (!measures) return without ? null : <p class="quiet">Measuring…</p>;
  const tables = [...measures.pieces, ...measures.yarn.map((yarn) => ({ name: yarn.label, rows: yarn.rows }))].map((table) => ({
    ...table,
    rows: inUnits(table.rows, units),
  }));
  return (
    <>
      {tables.length === 0 && <p>There is no gauge here that measures could come from. A line such as “Gauge: 14 sts and 10 rnds = 4 in” is enough.</p>}
      {tables.map((table) => (
        <Figures key={table.name} table={table} headings={measures.headings} size={size} />
      ))}
      {measures.yarn[0]?.sure && <p class="quiet">{measures.yarn[0].sure}</p>}
      {measures.said.map((sentence) => (
        <p class="quiet" key={sentence}>
          {sentence}
        </p>
      ))}
    </>
  );
}

function Figures({ table, headings, size }: { table: Table; headings: string[]; size: number }) {
  return (
    <div class="table-place" tabIndex={0} role="region" aria-label={table.name}>
      <table class="figures">
        <caption>{table.name}</caption>
        <thead>
          <tr>
            <th scope="col">Measure</th>
            {headings.map((name, place) => (
              <th scope="col" key={name} class={place === size ? "chosen" : ""}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row, at) => (
            <tr key={`${at}-${row.what}`}>
              <th scope="row">
                {row.what && `${row.what} `}
                <span class="unit">{row.unit}</span>
              </th>
              {row.values.map((value, place) => (
                <td key={headings[place]} class={place === size ? "chosen" : ""}>
                  {value}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
