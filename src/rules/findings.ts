// What in the log do the rules or the evidence contradict? One small check for each finding, all run in one pass.

import type { Severity } from "../bout/result";
import type { Kind } from "../bout/schema";
import { cardColour, fencingAfterBlack, offenceWords, touchNotAnnulled } from "./findings/cards";
import { type Check, type Doubt, type Finding, type Report, type RowOf } from "./findings/check";
import {
  endAgainstScore,
  entryAfterEnd,
  missingDraw,
  missingSabreBreak,
  periodOutOfTurn,
  periodTooLong,
  phraseAfterEnd,
} from "./findings/frame";
import { lampsNotRecorded, notHalted, notYetCalled, pendingAward } from "./findings/missing";
import { pCardMissing, pCardNotDue, pCardOutOfStep } from "./findings/p-cards";
import { Past } from "./findings/past";
import {
  mirroredFit,
  platformsOutsidePicture,
  swappedPlatforms,
  unusableFit,
  unusablePlatforms,
} from "./findings/picture";
import {
  appealShownWrong,
  appealWithNoneLeft,
  changedWithoutCall,
  reviewAfterCorrection,
  reviewResultDisagrees,
  reviewWithoutPhrase,
  reviewWithoutVideo,
  secondReview,
} from "./findings/reviews";
import { pageOf } from "./findings/rule-book";
import { boardDisagrees } from "./findings/scoreboard";
import { breakTooLong, seatedOnly } from "./findings/stops";
import { haltBeforeStart, outOfOrder, overBeforeItBegan, overlap, phraseInReplay } from "./findings/times";
import {
  awardWithoutLamp,
  doubleAtDecidingTouch,
  fencingAfterLastTouch,
  lampNotOfWeapon,
  levelScoreWithoutReview,
  reviewedAwardWithoutLamp,
  touchWithoutCommand,
  twoTouches,
} from "./findings/touches";
import type { Ledger } from "./ledger";
import type { Row } from "./rows";

export type { Finding, Related } from "./findings/check";

/** The checks of each kind of entry; each is given rows of its kind only. */
const checks: {
  readonly [K in Kind]: readonly ((row: RowOf<K>, past: Past, report: Report) => void)[];
} = {
  phrase: [
    haltBeforeStart,
    overlap,
    phraseInReplay,
    phraseAfterEnd,
    fencingAfterBlack,
    fencingAfterLastTouch,
    twoTouches,
    awardWithoutLamp,
    lampNotOfWeapon,
    touchWithoutCommand,
    doubleAtDecidingTouch,
    periodTooLong,
    missingSabreBreak,
    missingDraw,
    levelScoreWithoutReview,
    pCardMissing,
    pendingAward,
    notYetCalled,
    notHalted,
    lampsNotRecorded,
  ],
  review: [
    entryAfterEnd,
    twoTouches,
    reviewedAwardWithoutLamp,
    reviewWithoutPhrase,
    reviewWithoutVideo,
    appealWithNoneLeft,
    secondReview,
    appealShownWrong,
    changedWithoutCall,
    reviewResultDisagrees,
    reviewAfterCorrection,
  ],
  card: [entryAfterEnd, cardColour, pCardOutOfStep, pCardNotDue, touchNotAnnulled, offenceWords],
  stop: [overBeforeItBegan, breakTooLong, seatedOnly],
  board: [boardDisagrees],
  correction: [entryAfterEnd],
  opening: [entryAfterEnd],
  gap: [entryAfterEnd, overBeforeItBegan],
  period: [entryAfterEnd, periodOutOfTurn],
  draw: [entryAfterEnd],
  end: [entryAfterEnd, missingDraw, endAgainstScore],
  fit: [unusableFit, mirroredFit],
  platforms: [unusablePlatforms, swappedPlatforms, platformsOutsidePicture],
  shot: [],
  distance: [],
  note: [],
};

/** The findings about the log, by entry, then the gravest first. */
export function findingsOf(ledger: Ledger): readonly Finding[] {
  const found: Finding[] = [];
  const report: Report = (row, doubt) => found.push(findingAt(row, doubt));
  const past = new Past(ledger);
  for (const row of ledger.rows) {
    outOfOrder(row, past, report);
    // The checks under a kind take rows of that kind, which TypeScript can't follow through the index.
    for (const check of checks[row.kind] as readonly Check[]) check(row, past, report);
    past.add(row);
  }
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

function findingAt({ record, entry }: Row, { rule, severity, message, from, related }: Doubt): Finding {
  const { source, unverified } = from;
  const sure = unverified === undefined && entry.confirmed !== true;
  return {
    rule,
    severity: sure ? severity : "note",
    entry: record.index,
    at: record.at,
    message: unverified === undefined ? message : `${message} (check the current book: ${unverified})`,
    source,
    page: pageOf(rule),
    ...(related === undefined || related.length === 0 ? {} : { related }),
  };
}
