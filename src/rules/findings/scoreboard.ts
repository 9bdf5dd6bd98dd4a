// Where the scoreboard shows another score than the log gives, and what may explain it. The board is evidence and the
// log is the tagger's word: either may be wrong.

import { sides, type Side } from "../../bout/words";
import type { Ledger } from "../ledger";
import { hasTouch } from "../phrases";
import type { PhraseRow, Row, Score } from "../rows";
import { byOwnFormat, nameOf, scoreText, type Check, type Related, type RowOf } from "./check";
import { boardAhead, sameTime, type Past } from "./past";

export const boardDisagrees: Check<"board"> = (row, past, report) => {
  const ahead = boardAhead(row, past.phrase);
  if (ahead[0] === 0 && ahead[1] === 0) return;
  if (correctedAtOnce(row, past.ledger.rows, past.position)) return;
  const shown = `the board shows ${scoreText(row.entry.score)}, the log gives ${scoreText(row.state.score)}`;
  if (past.board !== undefined && equal(past.boardAhead, ahead)) {
    report(row, {
      rule: "board-disagrees",
      severity: "note",
      message: `${shown}: the same difference as at the board before`,
      from: byOwnFormat,
      related: [{ entry: past.board.record.index, message: "the difference begins here, or above" }],
    });
    return;
  }
  const penalty = missingPenalty(past, ahead);
  if (penalty !== undefined) {
    const { side, card } = penalty;
    report(row, {
      rule: "penalty-touch-not-on-board",
      severity: "warning",
      message: `${shown}; the difference is the touch that ${nameOf(past.ledger, side)} gets for the ${card.entry.card} card at ${card.record.at}, which the board does not show`,
      from: { source: card.entry.card === "red" ? "FIE t.162" : past.ledger.edition.unwillingness.source },
      related: [{ entry: card.record.index, message: `the card that gives ${side} a touch` }],
    });
    return;
  }
  report(row, {
    rule: "board-disagrees",
    severity: "warning",
    message: `${shown} here: ${differenceWords(past.ledger, ahead)}. ${likelyCause(past, row, ahead)}`,
    from: byOwnFormat,
    related: touchesSince(past, row, ahead),
  });
};

/** A correction written at the very moment of a board is what that board shows. */
function correctedAtOnce(row: RowOf<"board">, rows: readonly Row[], position: number): boolean {
  for (let next = position + 1; next < rows.length; next++) {
    const other = rows[next];
    if (other === undefined || !sameTime(row, other)) return false;
    if (other.kind === "correction") return equal(other.entry.score, row.entry.score);
  }
  return false;
}

/** The one new difference is a touch short for a side that a card brought a touch since the last board. */
function missingPenalty(
  { boardAhead: before, penalties }: Past,
  ahead: Score,
): { side: Side; card: RowOf<"card"> } | undefined {
  for (const [index, side] of sides.entries()) {
    const other = index === 0 ? 1 : 0;
    const card = penalties[side].at(-1);
    if (card === undefined || ahead[other] !== before[other]) continue;
    if (ahead[index as 0 | 1] === before[index as 0 | 1] - 1) return { side, card };
  }
  return undefined;
}

/** "Kel Odrey has 1 touch more in the log". */
function differenceWords(ledger: Ledger, ahead: Score): string {
  return sides
    .flatMap((side, index) => {
      const by = ahead[index as 0 | 1];
      if (by === 0) return [];
      const touches = `${Math.abs(by)} touch${Math.abs(by) === 1 ? "" : "es"}`;
      return [`${nameOf(ledger, side)} has ${touches} ${by > 0 ? "more on the board" : "more in the log"}`];
    })
    .join(", ");
}

/** The next board tells which of the two is likelier wrong: if it agrees again, this one was. */
function likelyCause(past: Past, row: RowOf<"board">, ahead: Score): string {
  const found = nextBoard(past);
  if (found === undefined)
    return "Look for a missing touch, card or correction above, or for a mistake of the board";
  const { board: next, phrase } = found;
  const later = boardAhead(next, phrase);
  if (equal(later, [0, 0]))
    return `The next board, ${scoreText(next.entry.score)} at ${next.record.at}, agrees with the log again, so this one was most likely late or wrong: confirm that it showed this, or write the correction the officials made`;
  if (equal(later, ahead))
    return `The next board, ${scoreText(next.entry.score)} at ${next.record.at}, is off by the same, so look for a missing touch, card or correction above`;
  return `The next board, ${scoreText(next.entry.score)} at ${next.record.at}, differs in another way; look for a missing touch, card or correction above ${row.record.at} first`;
}

/** With the phrase it comes after. */
function nextBoard({
  ledger: { rows },
  position,
  phrase: latest,
}: Past): { readonly board: RowOf<"board">; readonly phrase: PhraseRow | undefined } | undefined {
  // Boards stand close together; a log without a further one is searched once for each board that disagrees anew.
  const furthest = Math.min(rows.length, position + 500);
  let phrase = latest;
  for (let next = position + 1; next < furthest; next++) {
    const row = rows[next];
    if (row?.kind === "phrase") phrase = row;
    if (row?.kind === "board") return { board: row, phrase };
  }
  return undefined;
}

/** The touches since the board before that the difference can be about, the latest few first. */
function touchesSince(
  { board, ledger, position }: Past,
  row: RowOf<"board">,
  ahead: Score,
): readonly Related[] {
  const related: Related[] = [];
  if (board !== undefined)
    related.push({
      entry: board.record.index,
      message: `the board before: ${scoreText(board.entry.score)}, where the log gave ${scoreText(board.state.score)}`,
    });
  const short = sides.filter((_, index) => ahead[index as 0 | 1] < 0);
  for (let above = position - 1; above >= 0 && position - above < 100 && related.length < 4; above--) {
    const other = ledger.rows[above];
    if (other === undefined || other === board) break;
    if (other.kind !== "phrase") continue;
    const side = short.find((side) => hasTouch(other.phrase.stands, side));
    if (side !== undefined)
      related.push({
        entry: other.record.index,
        message: `a touch of ${nameOf(ledger, side)} that the board may have missed`,
      });
  }
  return related.filter(({ entry }) => entry !== row.record.index);
}

function equal(one: Score, other: Score): boolean {
  return one[0] === other[0] && one[1] === other[1];
}
