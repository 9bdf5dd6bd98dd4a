// Which phrases are picked? The same filter for the viewer, clips, the brief and exports.

import {
  doneAction,
  familyOf,
  opponent,
  sides,
  sidesOf,
  type Action,
  type Doer,
  type ScoringAction,
  type Side,
} from "../bout/words";
import { hasTouch, type Ledger, type Row } from "../rules";
import { countedPhrases, type CountedPhrase } from "./phrases";
import type { Pick } from "./pick-format";
import { entryOf, type PhraseEvidence } from "./written-evidence";

export interface Picked {
  /** Entries of the log, in its order: closed phrases that count. */
  readonly entries: readonly number[];
  /** Of the phrases picked by hand: not there any more, not halted, or after the end of the bout. */
  readonly lost: readonly PhraseEvidence[];
}

export function pickedPhrases(ledger: Ledger, pick: Pick): Picked {
  const phrases = countedPhrases(ledger);
  const closed = new Set(phrases.map(({ entry }) => entry));
  const byHand = (pick.phrases ?? []).map((evidence) => ({ evidence, entry: entryOf(ledger, evidence) }));
  const lost = byHand.filter(({ entry }) => entry === undefined || !closed.has(entry));
  const chosen = pick.phrases === undefined ? undefined : new Set(byHand.map(({ entry }) => entry));
  const side = pick.fencer === undefined ? null : sideOf(ledger, pick.fencer);
  if (side === undefined) return { entries: [], lost: lost.map(({ evidence }) => evidence) };
  const after = rowsAfter(ledger);
  const entries = phrases
    .filter(
      (phrase) =>
        (chosen === undefined || chosen.has(phrase.entry)) &&
        fits(pick, { ledger, phrase, side, after: after.get(phrase.entry) ?? [] }),
    )
    .map(({ entry }) => entry);
  return { entries, lost: lost.map(({ evidence }) => evidence) };
}

/** The fencer's side, by id before name; undefined where they don't fence in this bout. */
export function sideOf({ bout: { fencers } }: Ledger, fencer: string): Side | undefined {
  return (
    sides.find((side) => fencers[side].id === fencer) ?? sides.find((side) => fencers[side].name === fencer)
  );
}

/** Between each phrase and the next. */
function rowsAfter({ rows }: Ledger): ReadonlyMap<number, readonly Row[]> {
  const after = new Map<number, Row[]>();
  let last: Row[] | undefined;
  for (const row of rows) {
    if (row.kind === "phrase") after.set(row.record.index, (last = []));
    else last?.push(row);
  }
  return after;
}

interface Seen {
  readonly ledger: Ledger;
  readonly phrase: CountedPhrase;
  /** Of the pick's fencer; null where none is named. */
  readonly side: Side | null;
  readonly after: readonly Row[];
}

function fits(pick: Pick, seen: Seen): boolean {
  const { phrase, side } = seen;
  const { entry, phrase: facts, before } = phrase.row;
  const told = (words: string) => asSides(words, side);
  const usesNone = (
    wanted: readonly string[] | string | undefined,
    named: (action: Action) => string | undefined,
  ) => wanted !== undefined && ![wanted].flat().some((words) => uses(phrase, told(words), named));
  const scoresNone = (
    wanted: readonly string[] | string | undefined,
    named: (action: ScoringAction | "untagged") => string | undefined,
  ) => wanted !== undefined && ![wanted].flat().some((words) => scores(phrase, told(words), named));
  const differs = (wanted: readonly unknown[] | undefined, found: unknown) =>
    wanted !== undefined && !wanted.includes(found);
  const same = (one: string) => one.trim().toLowerCase();
  return !(
    usesNone(pick.actions, (action) => action) ||
    usesNone(pick.families, familyOf) ||
    scoresNone(pick.scored, (action) => action) ||
    scoresNone(pick.scoredFamilies, (action) => (action === "untagged" ? undefined : familyOf(action))) ||
    differs(list(pick.opener)?.map(told), phrase.opener) ||
    differs(list(pick.award)?.map(told), facts.stands ?? "waiting") ||
    (pick.bothLamps !== undefined && (entry.lamps === undefined || facts.bothLamps !== pick.bothLamps)) ||
    !reviewFits(pick, seen) ||
    !cardFits(pick, seen) ||
    !stopFits(pick, seen) ||
    differs(list(pick.periods), before.period) ||
    differs(list(pick.targets)?.map(same), same(entry.target ?? "")) ||
    (pick.tags !== undefined && ![pick.tags].flat().some((tag) => entry.tags?.includes(tag) === true)) ||
    (pick.star !== undefined && (entry.star === true) !== pick.star) ||
    (pick.unsure !== undefined && (entry.sure === false) !== pick.unsure) ||
    (pick.numbers !== undefined && ![pick.numbers].flat().some((range) => within(range, facts.number)))
  );
}

function list<T>(wanted: T | readonly T[] | undefined): readonly T[] | undefined {
  return wanted === undefined ? undefined : ([wanted].flat() as readonly T[]);
}

/** "own riposte" as the bout's sides have it. */
function asSides(words: string, side: Side | null): string {
  if (side === null) return words;
  return words.replace(/^(own|opponent)(?= |$)/, (word) => (word === "own" ? side : opponent(side)));
}

/** Whose, and what: "left riposte" apart. */
function apart(words: string): { readonly doer: Doer | null; readonly what: string } {
  const [, doer, what] = /^(left|right|both) (.+)$/.exec(words) ?? [];
  return doer === undefined || what === undefined
    ? { doer: null, what: words }
    : { doer: doer as Doer, what };
}

/** An action written of both is each side's too. */
function uses({ row }: CountedPhrase, words: string, named: (action: Action) => string | undefined): boolean {
  const wanted = apart(words);
  return (row.entry.actions ?? []).some((written) => {
    const { doer, action } = doneAction(written);
    return named(action) === wanted.what && (wanted.doer === null || doer === wanted.doer || doer === "both");
  });
}

function scores(
  { row: { phrase } }: CountedPhrase,
  words: string,
  named: (action: ScoringAction | "untagged") => string | undefined,
): boolean {
  const { doer, what } = apart(words);
  const did = (side: Side) => {
    const action = phrase.scoring[side];
    return hasTouch(phrase.stands, side) && action !== null && named(action) === what;
  };
  return doer === null ? sides.some(did) : sidesOf(doer).every(did);
}

/** One and the same review must fit both parts; "none": none of those asked for by these. */
function reviewFits({ review, reviewBy }: Pick, { ledger, phrase, side }: Seen): boolean {
  if (review === undefined && reviewBy === undefined) return true;
  const askers = list<string>(reviewBy)?.map((words) => asSides(words, side));
  const asked = phrase.row.phrase.reviews.flatMap((index) => {
    const row = ledger.byEntry[index];
    return row?.kind === "review" && (askers === undefined || askers.includes(row.entry.by)) ? [row] : [];
  });
  return (list(review) ?? ["any"]).some((wanted) => {
    if (wanted === "none") return asked.length === 0;
    return asked.some(({ entry }) => wanted === "any" || entry.result === wanted);
  });
}

function cardFits({ card, cardTo }: Pick, { after, side }: Seen): boolean {
  if (card === undefined && cardTo === undefined) return true;
  const getters = list<string>(cardTo)?.map((words) => asSides(words, side));
  const colours: readonly string[] = list(card) ?? ["any"];
  return after.some(
    (row) =>
      row.kind === "card" &&
      (colours.includes("any") || colours.includes(row.entry.card)) &&
      (getters === undefined || sidesOf(row.entry.to).some((one) => getters.includes(one))),
  );
}

function stopFits({ stop }: Pick, { after }: Seen): boolean {
  const wanted = list<string>(stop);
  return (
    wanted === undefined ||
    after.some(
      (row) =>
        row.kind === "stop" &&
        (wanted.includes("any") || [row.entry.for].flat().some((reason) => wanted.includes(reason))),
    )
  );
}

function within(range: number | string, number: number): boolean {
  const [from = NaN, to = from] = String(range).split("-").map(Number);
  return from <= number && number <= to;
}
