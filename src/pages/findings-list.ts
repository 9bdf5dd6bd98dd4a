// What in the file the rules or the evidence contradict, gravest word first, with the place it stands at.

import type { Finding } from "../rules";
import { markup, type Markup } from "./markup";
import type { Reader } from "./reader";

export function findingsList(findings: readonly Finding[], reader: Reader): Markup {
  if (findings.length === 0) return markup`<p>Nothing in the file contradicts the rules or the evidence.</p>`;
  return markup`<ul class="findings">${findings.map(
    (finding, index) =>
      markup`<li class="${finding.severity}"><span class="severity">${finding.severity}</span> <span class="place">${place(finding, index, reader)}</span> <span class="message">${finding.message}</span> <cite>(${finding.source})</cite></li>`,
  )}</ul>`;
}

function place({ entry, at, line, column, rule }: Finding, index: number, reader: Reader): Markup {
  if (entry !== undefined) {
    const row = reader.ledger.byEntry[entry];
    const what = row?.kind === "phrase" ? `phrase ${row.phrase.number}` : (row?.kind ?? "entry");
    return reader.play(
      { key: `finding.${rule}.${reader.keys(entry)}`, title: `${what}, ${rule}`, entries: [entry] },
      `${what} at ${at ?? "?"}`,
    );
  }
  if (line === undefined) return markup``;
  return reader.medium === "panel"
    ? lineButton(line, column, `finding.${rule}.${index}`)
    : markup`${lineWords(line, column)}`;
}

/** Takes the reader to a place in the text of the file. */
export function lineButton(line: number, column: number | undefined, key: string): Markup {
  return markup`<button type="button" class="evidence" data-key="${key}" data-line="${line}"${
    column !== undefined && markup` data-column="${column}"`
  } title="Go to this line of the text">${lineWords(line, column)}</button>`;
}

function lineWords(line: number, column: number | undefined): string {
  return column === undefined ? `line ${line}` : `line ${line}, column ${column}`;
}
