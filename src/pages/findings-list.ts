// What in the file the rules or the evidence contradict, gravest word first, with the place it stands at.

import type { Finding, Ledger } from "../rules";
import type { EntryKeys } from "./entry-keys";
import type { Play } from "./evidence";
import { markup, type Markup } from "./markup";

export function findingsList(
  findings: readonly Finding[],
  ledger: Ledger,
  keys: EntryKeys,
  play: Play,
): Markup {
  if (findings.length === 0) return markup`<p>Nothing in the file contradicts the rules or the evidence.</p>`;
  return markup`<ul class="findings">${findings.map(
    (finding) =>
      markup`<li class="${finding.severity}"><span class="severity">${finding.severity}</span> <span class="place">${place(finding, ledger, keys, play)}</span> <span class="message">${finding.message}</span> <cite>(${finding.source})</cite></li>`,
  )}</ul>`;
}

function place(
  { entry, at, line, column, rule }: Finding,
  { byEntry }: Ledger,
  keys: EntryKeys,
  play: Play,
): Markup {
  if (entry !== undefined) {
    const row = byEntry[entry];
    const what = row?.kind === "phrase" ? `phrase ${row.phrase.number}` : (row?.kind ?? "entry");
    return play(
      { key: `finding.${rule}.${keys(entry)}`, title: `${what}, ${rule}`, entries: [entry] },
      `${what} at ${at ?? "?"}`,
    );
  }
  return line === undefined ? markup`` : markup`line ${line}${column !== undefined && `, column ${column}`}`;
}
