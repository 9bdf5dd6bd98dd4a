// What one bout says in numbers: the study sheet, as `boutline sheet --json` prints it.

import { scoringActions, type CardColour, type ScoringAction, type Side } from "../bout/words";
import type { Finding, Ledger, Score, Sided } from "../rules";
import { driftOf, type Drift } from "./drift";
import { exact, minutely, wilson, type EvidencedCountPerMinute, type EvidencedRate } from "./rates";
import { evidenceOf, type Evidence, type Scored, type SideEvidence } from "./tally";

/** Numbers unrounded, entries by their index in `log`. A field may be added, never change its meaning. */
export interface Sheet {
  readonly sheet: 1;
  readonly score: Score;
  /** Null while undecided. */
  readonly winner: Side | null;
  /** Closed phrases. */
  readonly phrases: number;
  /** Sum of halt - start over phrases with a command. */
  readonly fencingSeconds: number;
  /** Phrases with at least one action. */
  readonly tagged: EvidencedRate;
  readonly sides: Sided<SideFigures>;
  /** Phrases with a valid lamp on both sides, by the award that stood; `both` at épée, or where a file says so. */
  readonly bothLamps: {
    readonly left: number;
    readonly right: number;
    readonly neither: number;
    readonly both?: number;
  };
  readonly reviews: {
    readonly byOfficials: { readonly asked: number; readonly changed: number; readonly decided: number };
  };
  /** Null while there is no step. */
  readonly drift: Drift | null;
  readonly findings: readonly Finding[];
}

export interface SideFigures {
  /** Awards that stood, in phrases. */
  readonly touches: number;
  /** From the opponent's red cards, and P-red. */
  readonly penaltyTouches: number;
  /** From openings and gaps. */
  readonly unseenTouches: number;
  /** From corrections; may be negative. */
  readonly correctedTouches: number;
  /** By scoring action, those that occur. */
  readonly touchesByAction: Readonly<Partial<Record<Scored, number>>>;
  /** Of the phrases in which the side used the action, those in which it was its scoring action (Wilson). */
  readonly attempts: Readonly<Partial<Record<ScoringAction, EvidencedRate>>>;
  /** Phrases this side alone opened, by what stood; a double counts in `for` and `against`. */
  readonly opened: {
    readonly phrases: number;
    readonly for: number;
    readonly against: number;
    readonly nothing: number;
  };
  /** Of all closed phrases (Wilson). */
  readonly touchesPerPhrase: EvidencedRate;
  /** Of fencing time (exact Poisson). */
  readonly touchesPerMinute: EvidencedCountPerMinute;
  /** `left`: null where no number of appeals holds. `success`: granted, of those asked that had a picture (exact). */
  readonly appeals: {
    readonly asked: number;
    readonly granted: number;
    readonly left: number | null;
    readonly success: EvidencedRate;
  };
  /** Cards held at the end; P-cards only where there are any. */
  readonly cards: Readonly<Record<"yellow" | "red" | "black", number> & Partial<Record<CardColour, number>>>;
}

/** A sheet with the entries behind its counts, for pages that play them. */
export interface StudySheet {
  readonly sheet: Sheet;
  readonly evidence: Evidence;
}

export function sheetOf(ledger: Ledger, findings: readonly Finding[]): StudySheet {
  const evidence = evidenceOf(ledger);
  const { bothLamps, officials, phrases, tagged } = evidence;
  const { left, right, neither, both } = bothLamps;
  const double = ledger.bout.about.weapon === "epee" || both.length > 0 ? { both: both.length } : {};
  const sheet: Sheet = {
    sheet: 1,
    score: ledger.end.score,
    winner: ledger.winner,
    phrases: phrases.length,
    fencingSeconds: ledger.end.fencing / 1000,
    tagged: wilson(tagged, phrases.length),
    sides: { left: sideFigures("left", ledger, evidence), right: sideFigures("right", ledger, evidence) },
    bothLamps: { left: left.length, right: right.length, neither: neither.length, ...double },
    reviews: {
      byOfficials: {
        asked: officials.asked.length,
        changed: officials.changed.length,
        decided: officials.decided.length,
      },
    },
    drift: driftOf(ledger),
    findings,
  };
  return { sheet, evidence };
}

function sideFigures(side: Side, ledger: Ledger, evidence: Evidence): SideFigures {
  const touches = ledger.touches[side];
  const own = evidence.sides[side];
  const closed = inClosedPhrases(ledger, own.touches);
  const { asked, changed, noPicture } = own.appeals;
  return {
    touches: touches.phrases,
    penaltyTouches: touches.penalties,
    unseenTouches: touches.unseen,
    correctedTouches: touches.corrected,
    touchesByAction: touchesByAction(own),
    attempts: attempts(own),
    opened: {
      phrases: own.opened.phrases.length,
      for: own.opened.for.length,
      against: own.opened.against.length,
      nothing: own.opened.nothing.length,
    },
    touchesPerPhrase: wilson(closed, evidence.phrases.length),
    touchesPerMinute: minutely(closed, ledger.end.fencing / 60_000),
    appeals: {
      asked: asked.length,
      granted: changed.length,
      left: ledger.end.appeals?.[side] ?? null,
      success: exact(changed, asked.length - noPicture.length),
    },
    cards: cardsHeld(ledger.end.cards[side]),
  };
}

/** A phrase called before it is halted has its touch in the score and, until it is closed, in no rate. */
function inClosedPhrases({ byEntry }: Ledger, entries: readonly number[]): readonly number[] {
  const isOpen = (entry: number) => {
    const row = byEntry[entry];
    return row?.kind === "phrase" && !row.phrase.closed;
  };
  return entries.some(isOpen) ? entries.filter((entry) => !isOpen(entry)) : entries;
}

const scored: readonly Scored[] = [...scoringActions, "untagged"];

function touchesByAction({ touchesByAction: by }: SideEvidence): SideFigures["touchesByAction"] {
  const counts: Partial<Record<Scored, number>> = {};
  for (const action of scored) {
    const entries = by.get(action);
    if (entries !== undefined) counts[action] = entries.length;
  }
  return counts;
}

function attempts({ attempts: by }: SideEvidence): SideFigures["attempts"] {
  const rates: Partial<Record<ScoringAction, EvidencedRate>> = {};
  for (const action of scoringActions) {
    const attempt = by.get(action);
    if (attempt !== undefined) rates[action] = wilson(attempt.scored, attempt.all.length);
  }
  return rates;
}

function cardsHeld(held: readonly CardColour[]): SideFigures["cards"] {
  const counts: Record<"yellow" | "red" | "black", number> & Partial<Record<CardColour, number>> = {
    yellow: 0,
    red: 0,
    black: 0,
  };
  for (const card of held) counts[card] = (counts[card] ?? 0) + 1;
  return counts;
}
