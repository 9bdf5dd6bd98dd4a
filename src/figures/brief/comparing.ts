// Is there a difference, bout by bout? Each bout is compared with itself, so that the opponent is the same on both
// sides of it; the bouts are then put together as a random sample of such bouts, and all that was tried judged together.

import { holm, pooledMean, type Measured, type PooledMean } from "../../statistics";
import {
  evidenceOf,
  isAgainst,
  isFor,
  narrowed,
  type BriefEvidence,
  type Picked,
  type Wanted,
} from "./pooling";

/** Two counts of the brief that are set against each other. */
export interface BriefGroup {
  readonly label: string;
  readonly count: number;
  readonly of: number;
  readonly evidence: BriefEvidence;
}

/** `paired`: two outcomes of the same phrases. `shares`: what came of two kinds of phrases of the same bouts. `net`:
 * touches for less touches against in two kinds of phrases; the groups count both. `trend`: an outcome over time. */
export interface BriefTry {
  readonly kind: "paired" | "shares" | "net" | "trend";
  /** Names the comparison; the same from brief to brief. */
  readonly key: string;
  readonly question: string;
  readonly first: BriefGroup;
  readonly second: BriefGroup;
  /** Bouts that could be compared with themselves. */
  readonly bouts: number;
  /** First less second as a share of the phrases, mean over bouts; of a trend the change of the share in a year. */
  readonly difference: { readonly value: number; readonly low: number; readonly high: number };
  /** Standard deviation of the difference between bouts; null of a trend. */
  readonly between: number | null;
  readonly p: number;
  /** Said aloud where the first is more often, and where the second is. */
  readonly says: { readonly more: string; readonly fewer: string };
}
export interface BriefComparison extends Omit<BriefTry, "says"> {
  /** After Holm, over every comparison tried. */
  readonly adjusted: number;
  readonly passes: boolean;
  /** The sentence where it passes, else what it could not show. */
  readonly words: string;
}
export interface BriefComparisons {
  readonly tried: number;
  readonly list: readonly BriefComparison[];
}

/** Fewer bouts than this say nothing of bouts in general. */
export const fewestBouts = 3;

export function judgedTogether(tries: readonly BriefTry[]): BriefComparisons {
  const adjusted = holm(tries.map(({ p }) => p));
  const list = tries.map(({ says, ...one }, index): BriefComparison => {
    const all = adjusted[index] ?? 1;
    const passes = all < 0.05;
    const words = passes
      ? one.difference.value > 0
        ? says.more
        : says.fewer
      : `nothing that ${one.bouts} bouts could show`;
    return { ...one, adjusted: all, passes, words };
  });
  return { tried: list.length, list };
}

type Named = Pick<BriefTry, "key" | "question" | "says">;
interface Outcome {
  readonly label: string;
  readonly wanted: Wanted;
}
interface Kind {
  readonly label: string;
  readonly picked: readonly Picked[];
}

/** Two outcomes of the same phrases. None where too few bouts have such phrases. */
export function tryOutcomes(
  named: Named,
  picked: readonly Picked[],
  one: Outcome,
  two: Outcome,
): readonly BriefTry[] {
  const [first, second] = [narrowed(picked, one.wanted), narrowed(picked, two.wanted)];
  const measured = picked.flatMap((_, at) => netIn(picked, first, second, at) ?? []);
  const of = sum(picked);
  return tried("paired", named, measured, group(one.label, first, of), group(two.label, second, of));
}

/** How often one thing came of one kind of phrases, and another of another kind, in the same bouts. */
export function tryKinds(named: Named, one: Kind & Outcome, two: Kind & Outcome): readonly BriefTry[] {
  const [first, second] = [narrowed(one.picked, one.wanted), narrowed(two.picked, two.wanted)];
  const measured = one.picked.flatMap((_, at): readonly Measured[] => {
    const here = share(first, one.picked, at);
    const there = share(second, two.picked, at);
    if (here === undefined || there === undefined) return [];
    return [{ value: here.value - there.value, variance: here.variance + there.variance }];
  });
  return tried(
    "shares",
    named,
    measured,
    group(one.label, first, sum(one.picked)),
    group(two.label, second, sum(two.picked)),
  );
}

/** Touches for less touches against in two kinds of phrases of the same bouts. */
export function tryNet(named: Named, one: Kind, two: Kind): readonly BriefTry[] {
  const nets = [one, two].map(({ picked }) => {
    const [won, lost] = [narrowed(picked, isFor), narrowed(picked, isAgainst)];
    return picked.map((_, at) => netIn(picked, won, lost, at));
  });
  const measured = one.picked.flatMap((_, at): readonly Measured[] => {
    const [here, there] = [nets[0]?.[at], nets[1]?.[at]];
    if (here === undefined || there === undefined) return [];
    return [{ value: here.value - there.value, variance: here.variance + there.variance }];
  });
  const touches = ({ label, picked }: Kind) =>
    group(
      label,
      narrowed(picked, (phrase, bout) => isFor(phrase, bout) || isAgainst(phrase, bout)),
      sum(picked),
    );
  return tried("net", named, measured, touches(one), touches(two));
}

/** Of one bout: its first outcome less its second, of all its phrases; undefined where it has none. */
function netIn(
  all: readonly Picked[],
  first: readonly Picked[],
  second: readonly Picked[],
  at: number,
): Measured | undefined {
  const of = all[at]?.phrases.length ?? 0;
  if (of === 0) return undefined;
  const [one, two] = [first[at]?.phrases.length ?? 0, second[at]?.phrases.length ?? 0];
  // Half a phrase more on each side, so that a bout with one outcome alone is not taken for certain.
  const [p, q] = [(one + 0.5) / (of + 1), (two + 0.5) / (of + 1)];
  return { value: (one - two) / of, variance: (p + q - (p - q) ** 2) / of };
}

function share(found: readonly Picked[], all: readonly Picked[], at: number): Measured | undefined {
  const of = all[at]?.phrases.length ?? 0;
  if (of === 0) return undefined;
  const count = found[at]?.phrases.length ?? 0;
  const smoothed = (count + 0.5) / (of + 1);
  return { value: count / of, variance: (smoothed * (1 - smoothed)) / of };
}

function tried(
  kind: "paired" | "shares" | "net",
  named: Named,
  measured: readonly Measured[],
  first: BriefGroup,
  second: BriefGroup,
): readonly BriefTry[] {
  if (measured.length < fewestBouts || first.count + second.count === 0) return [];
  const { value, low, high, between, p }: PooledMean = pooledMean(measured);
  return [
    { kind, ...named, first, second, bouts: measured.length, difference: { value, low, high }, between, p },
  ];
}

function group(label: string, found: readonly Picked[], of: number): BriefGroup {
  return { label, count: sum(found), of, evidence: evidenceOf(found) };
}

function sum(picked: readonly Picked[]): number {
  return picked.reduce((all, { phrases }) => all + phrases.length, 0);
}
