// What the checks remember of the rows above: kept up to date row by row, so that no check walks the log again.

import type { EntryOf } from "../../bout/schema";
import { sides, sidesOf, type CardColour } from "../../bout/words";
import { timeOf } from "../../bout/written";
import { touchesFor } from "../cards";
import { offenceNamed, type GroupNumber } from "../edition";
import type { Ledger } from "../ledger";
import { lampLit } from "../phrases";
import type { PhraseRow, Row, Score, Sided } from "../rows";
import type { RowOf } from "./check";

/** The cards of one fencer so far. */
export interface Account {
  /** The first card of each colour. */
  readonly first: Map<CardColour, Row>;
  /** The first offence of each group that is known. */
  readonly groups: Map<GroupNumber, Row>;
  /** False after a part that was not recorded and whose cards the file does not tell. */
  known: boolean;
}

export class Past {
  readonly ledger: Ledger;
  position = 0;
  previous: Row | undefined;
  /** The latest phrase, and the one with the latest halt. */
  phrase: PhraseRow | undefined;
  lastHalted: PhraseRow | undefined;
  /** The latest board, and its score less the ledger's. */
  board: RowOf<"board"> | undefined;
  boardAhead: Score = [0, 0];
  /** Cards since that board that brought a side a touch. */
  penalties: Sided<RowOf<"card">[]> = { left: [], right: [] };
  readonly accounts: Sided<Account> = { left: newAccount(), right: newAccount() };
  /** P-cards so far, one for each entry. */
  readonly pCards: RowOf<"card">[] = [];
  /** Fencing time, in ms, since the last touch or other restart of the minute of t.124. `sure` counts everything that
   * may have been a hit as one. */
  sinceHit = { atMost: 0, sure: 0, known: true };
  /** The latest entry that set the score by hand since the latest phrase. */
  setSince: Row | undefined;
  draw: Row | undefined;
  extraMinute: RowOf<"period"> | undefined;
  /** False after an unrecorded part that does not tell the period. */
  periodKnown = true;
  /** Fencing time of the period, in ms, before an unrecorded part in which another period may have begun. */
  beforeUnrecorded = 0;
  /** False after an unrecorded part in which lots may have been drawn. */
  drawKnown = true;
  /** The first phrase, or last card, already reported for what lasts. */
  readonly told = new Set<string>();
  /** Rows after this position, up to the last phrase or end, mean that the bout went on. */
  private readonly lastSign: number;

  constructor(ledger: Ledger) {
    this.ledger = ledger;
    this.lastSign = ledger.rows.findLastIndex(({ kind }) => kind === "phrase" || kind === "end");
  }

  /** Whether another phrase, or the end, comes after this row. */
  get followed(): boolean {
    return this.position < this.lastSign;
  }

  /** The first row after this one. */
  get next(): Row | undefined {
    return this.ledger.rows[this.position + 1];
  }

  /** True once for each name: what lasts is told once. */
  first(name: string): boolean {
    if (this.told.has(name)) return false;
    this.told.add(name);
    return true;
  }

  add(row: Row): void {
    switch (row.kind) {
      case "phrase":
        this.addPhrase(row);
        break;
      case "card":
        this.addCard(row);
        break;
      case "board":
        this.board = row;
        this.boardAhead = boardAhead(row, this.phrase);
        this.penalties = { left: [], right: [] };
        break;
      case "correction":
        this.setSince = row;
        break;
      case "opening":
      case "gap":
        this.addUnrecorded(row, row.entry);
        break;
      case "period":
        this.periodKnown = true;
        this.beforeUnrecorded = 0;
        this.restartMinute();
        if (row.entry.number === "extra") this.extraMinute = row;
        break;
      case "draw":
        this.draw = row;
        break;
      default:
        break;
    }
    this.previous = row;
    this.position++;
  }

  private addPhrase(row: PhraseRow): void {
    const { phrase, entry } = row;
    this.phrase = row;
    this.setSince = undefined;
    const latest = this.lastHalted?.entry.halt;
    if (
      entry.halt !== undefined &&
      entry.halt >= entry.start &&
      (latest === undefined || entry.halt > latest)
    )
      this.lastHalted = row;
    this.sinceHit.atMost += phrase.fencing;
    this.sinceHit.sure += phrase.fencing;
    const touch = phrase.stands !== null && phrase.stands !== "none";
    const offTarget = sides.some((side) => lampLit(entry, side, "off-target") === true);
    const annulled = entry.annulled !== undefined;
    // An annulled hit begins the minute anew (FIE t.124), also one that only the lamp tells of.
    const mayHaveHit = sides.some((side) => lampLit(entry, side, "valid") === true);
    if (touch || annulled || offTarget) this.restartMinute();
    else if (entry.lamps === undefined || mayHaveHit || phrase.stands === null) this.sinceHit.sure = 0;
  }

  private addCard(row: RowOf<"card">): void {
    const { to, card, for: words, group } = row.entry;
    const offence = offenceNamed(this.ledger.edition, words);
    if (card.startsWith("P-")) this.pCards.push(row);
    if (touchesFor(card) > 0 || card.startsWith("P-")) this.restartMinute();
    if (offence?.offPiste === true) return;
    // A yellow of group 3 can only be that of a person off the piste (FIE t.168).
    if (offence === undefined && group === 3 && card === "yellow") return;
    const ofGroup = offence?.group ?? (group as GroupNumber | undefined);
    for (const side of sidesOf(to)) {
      const { first, groups } = this.accounts[side];
      if (!first.has(card)) first.set(card, row);
      if (ofGroup !== undefined && !groups.has(ofGroup)) groups.set(ofGroup, row);
      if (touchesFor(card) > 0) this.penalties[side === "left" ? "right" : "left"].push(row);
    }
  }

  private addUnrecorded(row: Row, { cards, period }: EntryOf<"opening"> | EntryOf<"gap">): void {
    this.setSince = row;
    this.sinceHit = { atMost: 0, sure: 0, known: false };
    this.periodKnown = period !== undefined;
    this.beforeUnrecorded = period === undefined ? row.state.fencingInPeriod : 0;
    if (period === undefined || period === "extra") this.drawKnown = false;
    for (const side of sides) this.takeOver(row, this.accounts[side], cards?.[side]);
  }

  private takeOver(row: Row, account: Account, held: readonly CardColour[] | undefined): void {
    if (held === undefined) {
      account.known = false;
      return;
    }
    account.first.clear();
    for (const card of held) if (!account.first.has(card)) account.first.set(card, row);
    // Which offences those cards were for is not told.
    account.known = held.length === 0;
  }

  private restartMinute(): void {
    this.sinceHit = { atMost: 0, sure: 0, known: true };
  }
}

function newAccount(): Account {
  return { first: new Map(), groups: new Map(), known: true };
}

/** The board's score less the log's. Until a phrase is halted the board cannot show its touch, so a board that shows
 * the score before the phrase agrees. */
export function boardAhead({ entry, state }: RowOf<"board">, phrase: PhraseRow | undefined): Score {
  const halt = phrase?.entry.halt;
  if (phrase !== undefined && halt !== undefined && entry.at < halt) {
    const [left, right] = phrase.before.score;
    if (entry.score[0] === left && entry.score[1] === right) return [0, 0];
  }
  return [entry.score[0] - state.score[0], entry.score[1] - state.score[1]];
}

/** The card of conduct, yellow, red or black, that a fencer got first of all. */
export function firstConduct({ first }: Account): Row | undefined {
  return first.get("yellow") ?? first.get("red") ?? first.get("black");
}

/** Whether two rows stand at the same time. */
export function sameTime(one: Row, other: Row): boolean {
  return timeOf(one.entry) === timeOf(other.entry);
}
