// The checks of the log, all run in one pass: one small check for each finding.

import type { Severity } from "../../bout/result";
import type { Kind } from "../../bout/schema";
import { cardColour, fencingAfterBlack, offenceWords, touchNotAnnulled } from "./cards";
import { type Check, type Doubt, type Finding, type Report, type RowOf } from "./check";
import {
  endAgainstScore,
  entryAfterEnd,
  missingDraw,
  missingSabreBreak,
  periodOutOfTurn,
  periodTooLong,
  phraseAfterEnd,
} from "./frame";
import { lampsNotRecorded, notHalted, notYetCalled, pendingAward } from "./missing";
import { pCardMissing, pCardNotDue, pCardOutOfStep } from "./p-cards";
import { Past } from "./past";
import {
  appealShownWrong,
  appealWithNoneLeft,
  changedWithoutCall,
  reviewAfterCorrection,
  reviewResultDisagrees,
  reviewWithoutPhrase,
  reviewWithoutVideo,
  secondReview,
} from "./reviews";
import { pageOf } from "./rule-book";
import { boardDisagrees } from "./scoreboard";
import { breakTooLong, seatedOnly } from "./stops";
import { haltBeforeStart, outOfOrder, overBeforeItBegan, overlap, phraseInReplay } from "./times";
import {
  awardWithoutLamp,
  doubleAtDecidingTouch,
  fencingAfterLastTouch,
  lampNotOfWeapon,
  levelScoreWithoutReview,
  reviewedAwardWithoutLamp,
  touchWithoutCommand,
  twoTouches,
} from "./touches";
import type { Ledger } from "../ledger";
import type { Row } from "../rows";

/** The checks of each kind of entry; each is given rows of its kind only. */
export type Checks<Kinds extends Kind> = {
  readonly [K in Kinds]: readonly ((row: RowOf<K>, past: Past, report: Report) => void)[];
};

/** Kinds whose checks need the geometry of the picture. */
export type PictureKind = "fit" | "platforms";

const checksOfLog: Checks<Exclude<Kind, PictureKind>> = {
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
  shot: [],
  distance: [],
  note: [],
};

/** The findings about the log, by entry, then the gravest first. Without the checks of the picture it must not be given a
 * log with fits or platforms. */
export function runChecks(ledger: Ledger, ofPicture?: Checks<PictureKind>): readonly Finding[] {
  const checks: Partial<Checks<Kind>> = { ...checksOfLog, ...ofPicture };
  const found: Finding[] = [];
  const report: Report = (row, doubt) => found.push(findingAt(row, doubt));
  const past = new Past(ledger);
  for (const row of ledger.rows) {
    outOfOrder(row, past, report);
    // The checks under a kind take rows of that kind, which TypeScript can't follow through the index.
    const ofKind = checks[row.kind] as readonly Check[] | undefined;
    if (ofKind === undefined) throw new Error(`a log with a ${row.kind} needs the checks of the picture`);
    for (const check of ofKind) check(row, past, report);
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
