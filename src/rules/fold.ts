// How each kind of entry changes the state of the bout. Used by the ledger alone.

import type { EntryRecord } from "../bout/read";
import type { EntryOf, Phrase } from "../bout/schema";
import type { Milliseconds } from "../bout/time";
import {
  opponent,
  sides,
  sidesOf,
  type CardColour,
  type PeriodNumber,
  type Side,
  type Standing,
} from "../bout/words";
import { touchesFor } from "./cards";
import { afterReview, announced, hasTouch, lampLit, openerOf, scoringActionOf } from "./phrases";
import type { PhraseFacts, PhraseRow, ReviewRow, Row, Score, Sided, State, Touches } from "./rows";

type Writable<T> = { -readonly [K in keyof T]: T[K] };

export class Fold {
  readonly rows: Row[] = [];
  readonly byEntry: (Row | undefined)[] = [];
  state: State;
  private readonly video: boolean;
  private phrases = 0;
  /** The phrase a review would belong to; only the review may still change its facts. */
  private last: OpenToReview | undefined;
  private held: HeldCards = { left: [], right: [] };
  /** Who set the score by hand since the latest phrase: what a review then changes is no longer in that score. */
  private setSince: "unseen" | "corrected" | undefined;
  private readonly fits = new Map<string, number>();
  private readonly tallies: Sided<Writable<Touches>> = { left: emptyTally(), right: emptyTally() };

  constructor(start: State, video: boolean) {
    this.state = start;
    this.video = video;
  }

  add(record: EntryRecord): void {
    const row = this.rowOf(record);
    this.rows.push(row);
    while (this.byEntry.length < record.index) this.byEntry.push(undefined);
    this.byEntry[record.index] = row;
  }

  /** Where each side's score comes from, once every entry has been added. */
  touches(): Sided<Touches> {
    const { left, right } = this.tallies;
    const totals = { left: { ...left }, right: { ...right } };
    for (const row of this.rows)
      if (row.kind === "phrase" && row.phrase.counts)
        for (const side of sides) if (hasTouch(row.phrase.stands, side)) totals[side].phrases++;
    return totals;
  }

  private rowOf(record: EntryRecord): Row {
    const { entry, index } = record;
    const before = this.state;
    switch (entry.kind) {
      case "phrase":
        return this.phrase(record, entry);
      case "review":
        return this.review(record, entry);
      case "card":
        this.card(entry);
        break;
      case "correction":
        if (this.counting) this.setScore(entry.score, "corrected");
        break;
      case "opening":
      case "gap":
        if (this.counting) this.takeOver(entry);
        break;
      case "period":
        if (this.counting) this.change({ period: entry.number, fencingInPeriod: noTime });
        break;
      case "draw":
        if (this.counting) this.change({ priority: entry.to ?? null });
        break;
      case "end":
        if (this.state.ended === null) this.change({ ended: index });
        break;
      case "shot":
        this.changePose({ shot: entry.name, fit: this.fits.get(entry.name) ?? null });
        break;
      case "fit":
        this.fits.set(this.state.pose.shot, index);
        this.changePose({ fit: index });
        break;
      case "platforms": {
        const { left, right } = this.state.pose.platforms;
        this.changePose({
          platforms: {
            left: entry.left === undefined ? left : index,
            right: entry.right === undefined ? right : index,
          },
        });
        break;
      }
      case "stop":
      case "board":
      case "distance":
      case "note":
        break;
    }
    // `kind` and `entry` belong together, which TypeScript loses sight of after the switch.
    return { kind: entry.kind, record, entry, before, state: this.state } as Row;
  }

  /** Nothing after the end of the bout counts: it can't be opened again (FIE t.37.3). */
  private get counting(): boolean {
    return this.state.ended === null;
  }

  private phrase(record: EntryRecord, entry: Phrase): PhraseRow {
    const before = this.state;
    const counts = this.counting;
    const fencing = counts ? fencingTime(entry) : noTime;
    const stands = announced(entry);
    const facts: PhraseFacts = {
      number: ++this.phrases,
      closed: entry.halt !== undefined,
      fencing,
      opener: openerOf(entry.actions),
      stands,
      scoring: scoringOf(entry, stands),
      bothLamps: lampLit(entry, "left", "valid") === true && lampLit(entry, "right", "valid") === true,
      counts,
      reviews: noReviews,
    };
    this.last = { entry, index: record.index, facts, reviews: undefined };
    if (counts) this.setSince = undefined;
    if (counts) this.state = afterPhrase(before, moved(before.score, null, stands), fencing);
    return { kind: "phrase", record, entry, before, state: this.state, phrase: facts };
  }

  private review(record: EntryRecord, entry: EntryOf<"review">): ReviewRow {
    const before = this.state;
    const phrase = this.last;
    if (this.counting) this.spendAppeal(entry);
    const stood = phrase?.facts.stands ?? null;
    const stands = phrase === undefined || !this.counting ? stood : standsAfter(phrase.entry, stood, entry);
    if (phrase !== undefined) {
      const { facts } = phrase;
      facts.stands = stands;
      facts.scoring = scoringOf(phrase.entry, stands);
      // One growing list, so that a phrase with very many reviews takes no longer than as many phrases.
      phrase.reviews ??= [];
      phrase.reviews.push(record.index);
      facts.reviews = phrase.reviews;
      if (facts.counts && stood !== stands) this.changeTouch(stood, stands);
    }
    return {
      kind: "review",
      record,
      entry,
      before,
      state: this.state,
      of: phrase?.index ?? null,
      stood,
      stands,
    };
  }

  /** A score that was set by hand since the phrase replaced what the phrase gave, so the review leaves it alone. */
  private changeTouch(stood: Standing | null, stands: Standing | null): void {
    if (this.setSince === undefined) {
      this.change({ score: moved(this.state.score, stood, stands) });
      return;
    }
    for (const side of sides) this.tallies[side][this.setSince] -= step(side, stood, stands);
  }

  /** A fencer's appeal is spent where the call is kept (FIE t.61); a changed call and a missing picture cost nothing. */
  private spendAppeal({ by, result }: EntryOf<"review">): void {
    const { appeals } = this.state;
    if (appeals === null || result !== "kept" || (by !== "left" && by !== "right")) return;
    this.change({ appeals: { ...appeals, [by]: Math.max(0, appeals[by] - 1) } });
  }

  private card({ to, card }: EntryOf<"card">): void {
    const score: [number, number] = [...this.state.score];
    const touches = this.counting ? touchesFor(card) : 0;
    for (const side of sidesOf(to)) {
      this.held[side].push(card);
      const other = opponent(side);
      score[other === "left" ? 0 : 1] += touches;
      this.tallies[other].penalties += touches;
    }
    this.change(touches === 0 ? { cards: cardsNow(this.held) } : { cards: cardsNow(this.held), score });
  }

  private takeOver({ score, cards, appeals, period }: EntryOf<"opening"> | EntryOf<"gap">): void {
    this.setScore(score, "unseen");
    if (cards !== undefined) {
      const { left, right } = this.held;
      this.held = {
        left: cards.left === undefined ? left : [...cards.left],
        right: cards.right === undefined ? right : [...cards.right],
      };
      this.change({ cards: cardsNow(this.held) });
    }
    if (appeals !== undefined && this.video)
      this.change({ appeals: { left: appeals[0], right: appeals[1] } });
    if (period !== undefined) this.enter(period);
  }

  /** Time fenced in a period under way that was only partly recorded stays what was seen of it. */
  private enter(period: PeriodNumber): void {
    if (period !== this.state.period) this.change({ period, fencingInPeriod: noTime });
  }

  private setScore(score: Score, account: "unseen" | "corrected"): void {
    const [left, right] = this.state.score;
    this.tallies.left[account] += score[0] - left;
    this.tallies.right[account] += score[1] - right;
    this.setSince = account;
    this.change({ score: [score[0], score[1]] });
  }

  private change(to: Partial<State>): void {
    this.state = { ...this.state, ...to };
  }

  private changePose(to: Partial<State["pose"]>): void {
    this.change({ pose: { ...this.state.pose, ...to } });
  }
}

interface OpenToReview {
  readonly entry: Phrase;
  readonly index: number;
  readonly facts: Writable<PhraseFacts>;
  reviews: number[] | undefined;
}

/** Cards so far, in the order shown; a state looks at as many of them as there were. */
type HeldCards = Sided<CardColour[]>;

/** The cards held now. Copied only when somebody looks: a copy for every card of a long log would take its square. */
function cardsNow({ left, right }: HeldCards): State["cards"] {
  const [ofLeft, ofRight] = [left.length, right.length];
  return {
    get left() {
      return left.slice(0, ofLeft);
    },
    get right() {
      return right.slice(0, ofRight);
    },
  };
}

/** Field by field: a phrase is most of what there is, and the engine takes ten times as long to spread a state. */
function afterPhrase(before: State, score: Score, fencing: Milliseconds): State {
  return {
    score,
    cards: before.cards,
    appeals: before.appeals,
    period: before.period,
    fencing: (before.fencing + fencing) as Milliseconds,
    fencingInPeriod: (before.fencingInPeriod + fencing) as Milliseconds,
    priority: before.priority,
    pose: before.pose,
    ended: before.ended,
  };
}

const noTime = 0 as Milliseconds;
const noReviews: readonly number[] = [];
const noScoring: PhraseFacts["scoring"] = { left: null, right: null };

function emptyTally(): Writable<Touches> {
  return { phrases: 0, penalties: 0, unseen: 0, corrected: 0 };
}

function fencingTime({ start, halt, play }: Phrase): Milliseconds {
  return halt === undefined || play === false ? noTime : (Math.max(0, halt - start) as Milliseconds);
}

function scoringOf(phrase: Phrase, stands: Standing | null): PhraseFacts["scoring"] {
  if (stands === null || stands === "none") return noScoring;
  return {
    left: hasTouch(stands, "left") ? scoringActionOf(phrase, "left") : null,
    right: hasTouch(stands, "right") ? scoringActionOf(phrase, "right") : null,
  };
}

/** What a review leaves standing. Without a picture everything stays; only where nothing had been called does its
 * award say what the referee then gave. */
function standsAfter(
  phrase: Phrase,
  before: Standing | null,
  { result, award }: EntryOf<"review">,
): Standing | null {
  if (award === undefined || (result === "no picture" && before !== null)) return before;
  return afterReview(phrase, award);
}

function step(side: Side, before: Standing | null, after: Standing | null): number {
  return Number(hasTouch(after, side)) - Number(hasTouch(before, side));
}

function moved(score: Score, before: Standing | null, after: Standing | null): Score {
  const left = step("left", before, after);
  const right = step("right", before, after);
  return left === 0 && right === 0 ? score : [score[0] + left, score[1] + right];
}
