// Do two taggers of one bout see the same, or one tagger who tags it twice?

import { sides, type Side } from "../bout/words";
import type { Ledger } from "../rules";
import { cohensKappa, type Kappa } from "../statistics";
import { familyScored } from "./opened";
import { matchSpans, type Span } from "./matching";
import { countedPhrases, isTold, type CountedPhrase } from "./phrases";
import { medianOf, type Entries, type MedianFigure } from "./rates";
import { clockShift } from "./relation";

export interface MatchedPhrase {
  /** Entries of the first and of the second file. */
  readonly first: number;
  readonly second: number;
  /** Seconds. */
  readonly overlap: number;
  /** Second less first, in seconds. */
  readonly start: number;
  readonly halt: number;
}

export type Judged = "award" | "opener" | "family";

export interface Judgement {
  readonly what: Judged;
  /** Which matched phrases it is judged on. */
  readonly among: string;
  /** Words used, in the order of the table's rows (first tagger) and columns (second). */
  readonly words: readonly string[];
  readonly table: readonly (readonly number[])[];
  readonly kappa: Kappa;
}

export interface Difference {
  readonly what: Judged;
  readonly first: { readonly entry: number; readonly says: string };
  readonly second: { readonly entry: number; readonly says: string };
}

export interface Agreement {
  readonly taggers: { readonly first: string | null; readonly second: string | null };
  /** True where both files name the same tagger. */
  readonly again: boolean;
  readonly matched: readonly MatchedPhrase[];
  readonly unmatched: { readonly first: Entries; readonly second: Entries };
  /** Over the matched phrases, second less first, in seconds; entries of the first file. */
  readonly start: MedianFigure;
  readonly halt: MedianFigure;
  readonly judgements: readonly Judgement[];
  /** In the order of the bout. */
  readonly differences: readonly Difference[];
}

export function agreementOf(first: Ledger, second: Ledger): Agreement {
  const shift = clockShift(first.bout, second.bout);
  const [one, other] = [countedPhrases(first), countedPhrases(second)];
  const spans = [
    one.map((phrase) => spanOf(phrase, shift)),
    other.map((phrase) => spanOf(phrase, 0)),
  ] as const;
  const pairs = matchSpans(...spans).flatMap(({ first, second, overlap }) => {
    const [seen, seenToo] = [one[first], other[second]];
    return seen === undefined || seenToo === undefined ? [] : [{ first: seen, second: seenToo, overlap }];
  });
  const matched = pairs.map(({ first, second, overlap }) => matchedPhrase(first, second, overlap, shift));
  const judged = kinds.map((kind) => ({ kind, cases: casesOf(kind, pairs) }));
  const entries = matched.map((match) => match.first);
  const taggers = { first: first.bout.tagged?.by ?? null, second: second.bout.tagged?.by ?? null };
  return {
    taggers,
    again: taggers.first !== null && taggers.first === taggers.second,
    matched,
    unmatched: {
      first: rest(
        one,
        pairs.map((pair) => pair.first),
      ),
      second: rest(
        other,
        pairs.map((pair) => pair.second),
      ),
    },
    start: medianOf(
      matched.map(({ start }) => start),
      entries,
    ),
    halt: medianOf(
      matched.map(({ halt }) => halt),
      entries,
    ),
    judgements: judged.map(({ kind, cases }) => judgementOf(kind, cases)),
    differences: judged
      .flatMap(({ kind, cases }) =>
        cases
          .filter(({ first, second }) => first.says !== second.says)
          .map((apart): Difference => ({ what: kind.what, ...apart })),
      )
      .sort((one, other) => one.first.entry - other.first.entry),
  };
}

/** A phrase of no length still takes up a moment. */
function spanOf({ row: { entry } }: CountedPhrase, shift: number): Span {
  const { start, halt = start } = entry;
  return { from: start + shift, to: Math.max(halt, start + 1) + shift };
}

function matchedPhrase(
  first: CountedPhrase,
  second: CountedPhrase,
  overlap: number,
  shift: number,
): MatchedPhrase {
  const [one, other] = [first.row.entry, second.row.entry];
  return {
    first: first.entry,
    second: second.entry,
    overlap: overlap / 1000,
    start: (other.start - one.start - shift) / 1000,
    halt: ((other.halt ?? other.start) - (one.halt ?? one.start) - shift) / 1000,
  };
}

function rest(phrases: readonly CountedPhrase[], matched: readonly CountedPhrase[]): Entries {
  const found = new Set(matched);
  return phrases.filter((phrase) => !found.has(phrase)).map(({ entry }) => entry);
}

interface Pair {
  readonly first: CountedPhrase;
  readonly second: CountedPhrase;
}
interface JudgedKind {
  readonly what: Judged;
  readonly among: string;
  /** Null where this phrase can't be judged on it. */
  readonly says: (phrase: CountedPhrase, other: CountedPhrase) => string | null;
}

const kinds: readonly JudgedKind[] = [
  { what: "award", among: "all matched phrases", says: ({ row }) => row.phrase.stands ?? "not called" },
  {
    what: "opener",
    among: "matched phrases to which both gave actions",
    says: (phrase, other) => (isTold(phrase.row) && isTold(other.row) ? phrase.opener : null),
  },
  {
    what: "family",
    among: "matched phrases in which both named the action of the same side's touch",
    says: (phrase, other) => {
      const side = wonBy(phrase);
      if (side === null || wonBy(other) !== side) return null;
      const [one, two] = [phrase, other].map(({ row }) => familyScored(row.phrase.scoring[side]));
      return one === "untagged" || two === "untagged" ? null : (one ?? null);
    },
  },
];

/** The side that alone has the touch. */
function wonBy({ outcome }: CountedPhrase): Side | null {
  return sides.find((side) => outcome[side] === "for") ?? null;
}

type Case = Omit<Difference, "what">;

function casesOf({ says }: JudgedKind, pairs: readonly Pair[]): readonly Case[] {
  return pairs.flatMap(({ first, second }) => {
    const [one, other] = [says(first, second), says(second, first)];
    if (one === null || other === null) return [];
    return [{ first: { entry: first.entry, says: one }, second: { entry: second.entry, says: other } }];
  });
}

function judgementOf({ what, among }: JudgedKind, cases: readonly Case[]): Judgement {
  const words = [...new Set(cases.flatMap(({ first, second }) => [first.says, second.says]))].sort();
  const table = words.map(() => words.map(() => 0));
  for (const { first, second } of cases) {
    const row = table[words.indexOf(first.says)];
    const column = words.indexOf(second.says);
    if (row !== undefined) row[column] = (row[column] ?? 0) + 1;
  }
  return { what, among, words, table, kappa: cohensKappa(table) };
}
