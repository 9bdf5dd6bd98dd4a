// Is there a difference, or could chance have made it? The tests a page tries, judged together.

import {
  fisherTest,
  holm,
  pairedDifference,
  rateRatio,
  shareDifference,
  signTestOfCounts,
} from "../statistics";
import type {
  AgainstShuffles,
  Comparison,
  Comparisons,
  Group,
  OrderComparison,
  PairedComparison,
  RateComparison,
  ShareComparison,
} from "./model";
import type { Entries, EvidencedRate } from "./rates";

type Judged = "adjusted" | "passes" | "words";
type Untested<C> = C extends Comparison ? Omit<C, Judged> : never;
/** A comparison before it is judged among all that were tried. */
export type Try = Untested<Comparison>;

/** Adjusts every p for how many were tried (Holm), and says each outcome in words. */
export function judged(tries: readonly Try[]): Comparisons {
  const adjusted = holm(tries.map(({ p }) => p));
  const list = tries.map((one, index): Comparison => {
    const all = adjusted[index] ?? 1;
    const passes = all < 0.05;
    return { ...one, adjusted: all, passes, words: passes ? difference(one) : noDifference(one) };
  });
  return { tried: list.length, list };
}

/** Shares of different phrases; none where a side has nothing to count. */
export function tryShares(
  key: string,
  question: string,
  first: { readonly label: string; readonly rate: EvidencedRate },
  second: { readonly label: string; readonly rate: EvidencedRate },
): Untested<ShareComparison>[] {
  if (first.rate.of === 0 || second.rate.of === 0) return [];
  return [
    {
      kind: "shares",
      key,
      question,
      first: { label: first.label, ...first.rate },
      second: { label: second.label, ...second.rate },
      difference: shareDifference(first.rate, second.rate),
      p: fisherTest(first.rate, second.rate),
    },
  ];
}

/** Two outcomes of the same phrases, of which `both` had both. */
export function tryPaired(
  key: string,
  question: string,
  first: Group,
  second: Group,
  of: number,
): Untested<PairedComparison>[] {
  if (of === 0) return [];
  const other = new Set(second.entries);
  const both = first.entries.filter((entry) => other.has(entry)).length;
  const alone = { first: first.entries.length - both, second: second.entries.length - both };
  return [
    {
      kind: "paired",
      key,
      question,
      first,
      second,
      of,
      difference: pairedDifference({ both, ...alone, neither: of - both - alone.first - alone.second }),
      p: signTestOfCounts(alone.first, alone.second),
    },
  ];
}

export interface Paced {
  readonly label: string;
  readonly entries: Entries;
  readonly minutes: number;
}

/** Counts over time; none where no time passed or nothing was counted. */
export function tryRates(
  key: string,
  question: string,
  first: Paced,
  second: Paced,
): Untested<RateComparison>[] {
  const counts = [first.entries.length, second.entries.length] as const;
  if (first.minutes <= 0 || second.minutes <= 0 || counts[0] + counts[1] === 0) return [];
  const { value, low, high, p } = rateRatio(
    { count: counts[0], time: first.minutes },
    { count: counts[1], time: second.minutes },
  );
  const finite = (number: number) => (Number.isFinite(number) ? number : null);
  return [
    {
      kind: "rates",
      key,
      question,
      first: { ...first, count: counts[0] },
      second: { ...second, count: counts[1] },
      ratio: { value: finite(value), low, high: finite(high) },
      p,
    },
  ];
}

export function tryOrder(
  key: string,
  question: string,
  seen: AgainstShuffles,
  touches: number,
  p: number,
): Untested<OrderComparison>[] {
  return [{ kind: "order", key, question, seen, touches, p }];
}

function difference(one: Try): string {
  switch (one.kind) {
    case "shares":
    case "paired":
      return one.difference.value > 0
        ? `${one.first.label} more often than ${one.second.label}`
        : `${one.second.label} more often than ${one.first.label}`;
    case "rates":
      return one.ratio.value === null || one.ratio.value > 1
        ? `faster: ${one.first.label} than ${one.second.label}`
        : `faster: ${one.second.label} than ${one.first.label}`;
    case "order":
      return one.seen.count > one.seen.expected
        ? "more than other orders of the same touches give"
        : "fewer than other orders of the same touches give";
  }
}

function noDifference(one: Try): string {
  const could = (number: number, word: string) => `no difference that ${counted(number, word)} could show`;
  switch (one.kind) {
    case "shares":
      return could(one.first.of + one.second.of, one.key === "appeals" ? "appeal" : "phrase");
    case "paired":
      return could(one.of, "phrase");
    case "rates":
      return could(one.first.count + one.second.count, "touch");
    case "order":
      return could(one.touches, "touch").replace("difference", "pattern");
  }
}

/** "1 touch", "2 touches". */
export function counted(number: number, word: string): string {
  return `${number} ${word}${number === 1 ? "" : word.endsWith("ch") ? "es" : "s"}`;
}
