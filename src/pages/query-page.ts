// The answer to a query as a page: a plain table, each row that names a phrase with a button that plays it.

import { caution, phraseColumns, phraseTableRules, phraseTableVersion } from "../figures";

export interface QueryPage {
  readonly sql: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (string | number | null)[])[];
  /** What the reader should know: rows cut, files left out. */
  readonly notes: readonly string[];
  /** How many phrases were asked, of how many bouts. */
  readonly phrases: number;
  readonly bouts: number;
}

export function queryPage({ sql, columns, rows, notes, phrases, bouts }: QueryPage): string {
  const plays = columns.includes("bout") && columns.includes("entry");
  const head = [...(plays ? ["recording"] : []), ...columns].map(
    (name) => `<th scope="col">${text(name)}</th>`,
  );
  const lines = rows.map((row, index) => {
    const play = `<td><button type="button" class="evidence" data-row="${index}" aria-label="Play the phrase of row ${index + 1}">play</button></td>`;
    const cells = row.map((cell) =>
      typeof cell === "number" ? `<td class="number">${cell}</td>` : `<td>${text(cell ?? "")}</td>`,
    );
    return `<tr>${plays ? play : ""}${cells.join("")}</tr>`;
  });
  return `<h1>Answer to a query</h1>
<pre class="query">${text(sql)}</pre>
<p>${rows.length} ${rows.length === 1 ? "row" : "rows"}, asked of ${phrases} phrases in ${bouts} ${bouts === 1 ? "bout" : "bouts"}. <button type="button" id="again">Ask again</button></p>
${notes.map((note) => `<p class="note">${text(note)}</p>`).join("")}
${plays ? "" : "<p>With the columns <code>bout</code> and <code>entry</code> in the answer, each row can play its phrase.</p>"}
<div class="wide" tabindex="0" role="region" aria-label="Rows of the answer"><table><thead><tr>${head.join("")}</tr></thead><tbody>${lines.join("")}</tbody></table></div>
${columnsTable()}
<footer>${caution.map((line) => `<p>${text(line)}</p>`).join("")}</footer>`;
}

function columnsTable(): string {
  const rows = phraseColumns.map(
    ({ name, type, unit, means }) =>
      `<tr><th scope="row"><code>${name}</code></th><td>${type}</td><td>${unit ?? ""}</td><td>${text(means)}</td></tr>`,
  );
  return `<details><summary>Columns of the table <code>phrases</code>, version ${phraseTableVersion}</summary>
${phraseTableRules.map((rule) => `<p>${text(rule)}</p>`).join("")}
<div class="wide" tabindex="0" role="region" aria-label="Columns"><table><thead><tr><th scope="col">column</th><th scope="col">type</th><th scope="col">unit</th><th scope="col">what it means</th></tr></thead><tbody>${rows.join("")}</tbody></table></div></details>`;
}

function text(value: string): string {
  return value
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}
