// The entries behind every count of a study sheet, collected in one walk over the ledger.

import {
  canScore,
  doneAction,
  opponent,
  sides,
  sidesOf,
  type CardColour,
  type ScoringAction,
  type Side,
} from "../bout/words";
import {
  hasTouch,
  touchesFor,
  type Ledger,
  type PhraseRow,
  type ReviewRow,
  type Row,
  type Sided,
} from "../rules";
import type { Entries } from "./rates";

export type Scored = ScoringAction | "untagged";

export interface SideEvidence {
  /** Phrases whose touch this side has in the end. */
  readonly touches: Entries;
  readonly touchesByAction: ReadonlyMap<Scored, Entries>;
  /** The opponent's cards, and P-reds, that brought this side a touch. */
  readonly penaltyTouches: Entries;
  /** Phrases in which the side used the action, and those of them in which it was its scoring action. */
  readonly attempts: ReadonlyMap<ScoringAction, { readonly all: Entries; readonly scored: Entries }>;
  /** Phrases this side alone opened, by what stood. */
  readonly opened: {
    readonly phrases: Entries;
    readonly for: Entries;
    readonly against: Entries;
    readonly nothing: Entries;
  };
  readonly appeals: ReviewEvidence;
  /** Cards shown to this side in the log. */
  readonly cards: ReadonlyMap<CardColour, Entries>;
}

export interface ReviewEvidence {
  readonly asked: Entries;
  readonly changed: Entries;
  readonly decided: Entries;
  readonly noPicture: Entries;
}

export interface Evidence {
  /** Closed phrases that count. */
  readonly phrases: Entries;
  /** Those of them with an action. */
  readonly tagged: Entries;
  readonly sides: Sided<SideEvidence>;
  /** Phrases with a valid lamp on both sides, by the award that stood. */
  readonly bothLamps: {
    readonly left: Entries;
    readonly right: Entries;
    readonly both: Entries;
    readonly neither: Entries;
  };
  readonly officials: ReviewEvidence;
}

/** Walks the rows once. Phrases and reviews after the end of the bout are left out. */
export function evidenceOf({ rows }: Ledger): Evidence {
  const evidence = {
    phrases: [] as number[],
    tagged: [] as number[],
    sides: { left: emptySide(), right: emptySide() },
    bothLamps: { left: [] as number[], right: [] as number[], both: [] as number[], neither: [] as number[] },
    officials: emptyReviews(),
  };
  const add = (row: Row) => {
    switch (row.kind) {
      case "phrase":
        if (!row.phrase.counts) break;
        for (const side of sides) addTouch(evidence.sides[side], side, row);
        if (row.phrase.closed) addClosed(evidence, row);
        break;
      case "review": {
        if (row.before.ended !== null) break;
        const { by } = row.entry;
        addReview(by === "left" || by === "right" ? evidence.sides[by].appeals : evidence.officials, row);
        break;
      }
      case "card": {
        const { to, card } = row.entry;
        for (const side of sidesOf(to)) {
          push(evidence.sides[side].cards, card, row.record.index);
          if (touchesFor(card) > 0 && row.before.ended === null)
            evidence.sides[opponent(side)].penaltyTouches.push(row.record.index);
        }
        break;
      }
      default:
        break;
    }
  };
  rows.forEach(add);
  return evidence;
}

type Collected<T> = T extends Entries
  ? number[]
  : T extends ReadonlyMap<infer K, infer V>
    ? Map<K, Collected<V>>
    : { -readonly [P in keyof T]: Collected<T[P]> };

function addTouch(side: Collected<SideEvidence>, name: Side, { record, phrase }: PhraseRow): void {
  const action = phrase.scoring[name];
  if (action === null) return;
  side.touches.push(record.index);
  push(side.touchesByAction, action, record.index);
}

function addClosed(evidence: Collected<Evidence>, row: PhraseRow): void {
  const { index } = row.record;
  const { opener, stands, bothLamps } = row.phrase;
  evidence.phrases.push(index);
  if (row.entry.actions !== undefined && row.entry.actions.length > 0) {
    evidence.tagged.push(index);
    addAttempts(evidence.sides, row, row.entry.actions);
  }
  if (opener === "left" || opener === "right") {
    const { opened } = evidence.sides[opener];
    opened.phrases.push(index);
    if (hasTouch(stands, opener)) opened.for.push(index);
    if (hasTouch(stands, opponent(opener))) opened.against.push(index);
    if (stands === null || stands === "none") opened.nothing.push(index);
  }
  if (bothLamps) evidence.bothLamps[stands === null || stands === "none" ? "neither" : stands].push(index);
}

/** Counts an action once a phrase, however often the side used it there. */
function addAttempts(
  evidence: Sided<Collected<SideEvidence>>,
  { record: { index }, phrase }: PhraseRow,
  actions: NonNullable<PhraseRow["entry"]["actions"]>,
): void {
  for (const words of actions) {
    const { doer, action } = doneAction(words);
    if (!canScore(action)) continue;
    for (const side of sidesOf(doer)) {
      const { attempts } = evidence[side];
      let attempt = attempts.get(action);
      if (attempt === undefined) attempts.set(action, (attempt = { all: [], scored: [] }));
      if (attempt.all.at(-1) === index) continue;
      attempt.all.push(index);
      if (phrase.scoring[side] === action) attempt.scored.push(index);
    }
  }
}

function addReview(
  reviews: Collected<ReviewEvidence>,
  { record: { index }, entry: { result } }: ReviewRow,
): void {
  reviews.asked.push(index);
  if (result === "changed") reviews.changed.push(index);
  if (result === "decided") reviews.decided.push(index);
  if (result === "no picture") reviews.noPicture.push(index);
}

function push<K>(map: Map<K, number[]>, key: K, index: number): void {
  const entries = map.get(key);
  if (entries === undefined) map.set(key, [index]);
  else entries.push(index);
}

function emptyReviews(): Collected<ReviewEvidence> {
  return { asked: [], changed: [], decided: [], noPicture: [] };
}

function emptySide(): Collected<SideEvidence> {
  return {
    touches: [],
    touchesByAction: new Map(),
    penaltyTouches: [],
    attempts: new Map(),
    opened: { phrases: [], for: [], against: [], nothing: [] },
    appeals: emptyReviews(),
    cards: new Map(),
  };
}
