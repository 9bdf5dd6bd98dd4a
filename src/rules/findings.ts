// What in the log do the rules or the evidence contradict? One small check for each finding, all run in one pass.

import type { Severity } from "../bout/result";
import type { Check, Doubt, Finding, Past } from "./findings/check";
import { lampsNotRecorded, notHalted, notYetCalled, pendingAward } from "./findings/missing";
import { appealWithNoneLeft, reviewWithoutPhrase, secondYellow, yellowAfterRed } from "./findings/officials";
import { unusableFit, unusablePlatforms } from "./findings/picture";
import { afterTheEnd, haltBeforeStart, outOfOrder, overlap, periodTooLong } from "./findings/times";
import { awardWithoutLamp, boardDisagrees, twoTouches } from "./findings/touches";
import { pageOf } from "./findings/rule-book";
import type { Ledger } from "./ledger";
import type { Row } from "./rows";

export type { Finding, Related } from "./findings/check";

const checks: readonly Check[] = [
  outOfOrder,
  haltBeforeStart,
  overlap,
  afterTheEnd,
  twoTouches,
  boardDisagrees,
  awardWithoutLamp,
  secondYellow,
  yellowAfterRed,
  appealWithNoneLeft,
  reviewWithoutPhrase,
  periodTooLong,
  unusableFit,
  unusablePlatforms,
  pendingAward,
  notYetCalled,
  notHalted,
  lampsNotRecorded,
];

/** The findings about the log, by entry, then the gravest first. */
export function findingsOf(ledger: Ledger): readonly Finding[] {
  const { rows } = ledger;
  const found: Finding[] = [];
  const lastSign = rows.findLastIndex(({ kind }) => kind === "phrase" || kind === "end");
  const past: { -readonly [K in keyof Past]: Past[K] } = {
    ledger,
    previous: undefined,
    phrase: undefined,
    boardAhead: undefined,
    followed: false,
  };
  rows.forEach((row, position) => {
    past.followed = position < lastSign;
    for (const check of checks) {
      const doubt = check(row, past);
      if (doubt !== undefined) found.push(findingAt(row, doubt));
    }
    past.previous = row;
    if (row.kind === "phrase") past.phrase = row;
    if (row.kind === "board") past.boardAhead = boardAhead(row.entry.score, row.state.score);
  });
  return inOrder(found);
}

/** By entry, what is about no entry first; then the gravest first; then as they came. `entryOf` may know an entry that
 * the finding itself does not name. */
export function inOrder(
  findings: readonly Finding[],
  entryOf: (finding: Finding) => number | undefined = ({ entry }) => entry,
): readonly Finding[] {
  return findings.toSorted(
    (one, other) =>
      (entryOf(one) ?? -1) - (entryOf(other) ?? -1) || gravity[one.severity] - gravity[other.severity],
  );
}

const gravity: Record<Severity, number> = { error: 0, warning: 1, note: 2 };

function findingAt({ record, entry }: Row, { rule, severity, message, source, related }: Doubt): Finding {
  return {
    rule,
    severity: entry.confirmed === true ? "note" : severity,
    entry: record.index,
    at: record.at,
    message,
    source,
    page: pageOf(rule),
    ...(related === undefined ? {} : { related }),
  };
}

function boardAhead(board: readonly [number, number], score: readonly [number, number]) {
  return [board[0] - score[0], board[1] - score[1]] as const;
}
