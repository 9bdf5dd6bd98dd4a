// The course of the bout in words: what the chart shows, one line for each thing that happened, each of which plays.

import type { Ledger, Row } from "../rules";
import { callSentence } from "../rules/call";
import type { EntryKeys } from "./entry-keys";
import type { Play } from "./evidence";
import { markup, type Markup } from "./markup";

export function courseTable(ledger: Ledger, keys: EntryKeys, play: Play): Markup {
  const rows = ledger.rows.filter(belongs);
  if (rows.length === 0) return markup``;
  return markup`<details data-key="course"><summary>Course of the bout</summary><table class="course"><thead><tr><th scope="col">time</th><th scope="col">what happened</th><th scope="col" class="number">score</th></tr></thead><tbody>${rows.map(
    (row) => line(row, ledger, keys, play),
  )}</tbody></table></details>`;
}

function line(row: Row, ledger: Ledger, keys: EntryKeys, play: Play): Markup {
  const { record, state } = row;
  const sentence = callSentence(row, ledger);
  const title = row.kind === "phrase" ? `phrase ${row.phrase.number}` : row.kind;
  return markup`<tr><th scope="row">${play({ key: `course.${keys(record.index)}`, title, entries: [record.index], plain: true }, record.at)}</th><td>${row.kind === "phrase" && `${row.phrase.number}. `}${sentence}</td><td class="number">${state.score[0]}:${state.score[1]}</td></tr>`;
}

/** What moves the score or the bout along; the picture, the boards and the notes are left to the text. */
function belongs({ kind }: Row): boolean {
  switch (kind) {
    case "phrase":
    case "review":
    case "card":
    case "stop":
    case "period":
    case "correction":
    case "opening":
    case "gap":
    case "draw":
    case "end":
      return true;
    case "shot":
    case "fit":
    case "platforms":
    case "distance":
    case "board":
    case "note":
      return false;
  }
}
