// The score as it stands after each touch, shown in the text where the touch is given: behind the award of a phrase or a
// review, and behind a card that brings one.

import { parseTree } from "jsonc-parser";
import type { EntryRecord } from "../bout/read";
import type { Ledger, Row } from "../rules";

export interface ScoreMark {
  readonly offset: number;
  /** "2:1" */
  readonly score: string;
  readonly says: string;
}

/** The marks between two offsets of the text, both included. */
export function scoreMarks(ledger: Ledger, text: string, from: number, to: number): readonly ScoreMark[] {
  const { rows } = ledger;
  const marks: ScoreMark[] = [];
  for (let position = firstEndingAfter(rows, from); position < rows.length; position++) {
    const row = rows[position];
    if (row === undefined || row.record.offset > to) break;
    const field = givenBy(row);
    if (field === undefined) continue;
    const [left, right] = row.state.score;
    const offset = endOfField(text, row.record, field);
    if (offset === undefined || offset < from || offset > to) continue;
    const { fencers } = ledger.bout;
    marks.push({
      offset,
      score: `${left}:${right}`,
      says: `The score after this: ${fencers.left.name} ${left}, ${fencers.right.name} ${right}.`,
    });
  }
  return marks;
}

/** The field that changes the score without naming it. */
function givenBy({ kind, before, state }: Row): string | undefined {
  if (before.score[0] === state.score[0] && before.score[1] === state.score[1]) return undefined;
  return kind === "card" ? "card" : kind === "phrase" || kind === "review" ? "award" : undefined;
}

/** The first row, in the order of the text, that ends at or after an offset. */
function firstEndingAfter(rows: readonly Row[], offset: number): number {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const record = rows[middle]?.record;
    if (record !== undefined && record.offset + record.length < offset) low = middle + 1;
    else high = middle;
  }
  return low;
}

function endOfField(text: string, { offset, length }: EntryRecord, field: string): number | undefined {
  const entry = parseTree(text.slice(offset, offset + length), [], { allowTrailingComma: true });
  const value = entry?.children?.findLast(({ children }) => children?.[0]?.value === field)?.children?.[1];
  return value === undefined ? undefined : offset + value.offset + value.length;
}
