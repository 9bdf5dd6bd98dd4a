// How far do several people agree on the same cases, beyond what their habits alone would give?

import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import studentQuantile from "@stdlib/stats-base-dists-t-quantile";
import { normalShare, requireCount, tail, usualLevel } from "./level";
import { seededRandom } from "./random";

/** `value` and its limits are null where they can't be said: no case, or one and the same word throughout. */
export interface ManyReaders {
  readonly cases: number;
  /** Share of pairs of answers to one case that are alike. */
  readonly alike: number | null;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

export interface FleissKappa extends ManyReaders {
  /** Standard error if there were no agreement beyond chance, for a test against 0. */
  readonly errorByChance: number | null;
}

/**
 * Fleiss' kappa. Rows are cases, columns words, cells how many readers chose the word; every case has the same number
 * of answers, two or more. Fleiss, Psychological Bulletin 76 (1971) 378-382; the error under chance as corrected by
 * Fleiss, Nee and Landis, Psychological Bulletin 86 (1979) 974-977. Limits by the large-sample variance over cases of
 * Gwet, Educational and Psychological Measurement 81 (2021) 781-790, which does not suppose chance, and Student's t,
 * since there are few cases. That variance is 0 where all readers agree on all cases: then there are no limits, rather than a false certainty.
 */
export function fleissKappa(counts: readonly (readonly number[])[], level = usualLevel): FleissKappa {
  const cases = counts.length;
  const readers = sum(counts[0] ?? []);
  for (const row of counts) {
    row.forEach((count) => requireCount(count, "count"));
    if (sum(row) !== readers || readers < 2 || row.length !== counts[0]?.length)
      throw new RangeError("Every case needs the same number of answers, two or more, and the same words");
  }
  const half = cases > 1 ? -studentQuantile(tail(level), cases - 1) : 0;
  const none = { cases, value: null, low: null, high: null, errorByChance: null };
  if (cases === 0) return { ...none, alike: null };
  const shares = (counts[0] ?? []).map(
    (_, word) => sum(counts.map((row) => row[word] ?? 0)) / (cases * readers),
  );
  const pairs = readers * (readers - 1);
  const alikeIn = counts.map((row) => sum(row.map((count) => count * (count - 1))) / pairs);
  const alike = sum(alikeIn) / cases;
  const chance = sum(shares.map((share) => share * share));
  if (shares.some((share) => share === 1)) return { ...none, alike };
  const value = (alike - chance) / (1 - chance);
  const spread = counts.map((row, index) => {
    const chanceHere = sum(row.map((count, word) => (count / readers) * (shares[word] ?? 0)));
    const kappaHere = ((alikeIn[index] ?? 0) - chance) / (1 - chance);
    return (kappaHere - (2 * (1 - value) * (chanceHere - chance)) / (1 - chance) - value) ** 2;
  });
  const error = cases > 1 && alike < 1 ? Math.sqrt(sum(spread) / (cases * (cases - 1))) : null;
  const varied = sum(shares.map((share) => share * (1 - share)));
  const skew = sum(shares.map((share) => share * (1 - share) * (1 - 2 * share)));
  return {
    cases,
    alike,
    value,
    low: error === null ? null : Math.max(-1, value - half * error),
    high: error === null ? null : Math.min(1, value + half * error),
    errorByChance: Math.sqrt((2 * (varied ** 2 - skew)) / (cases * pairs)) / varied,
  };
}

const draws = 2000;

/**
 * Krippendorff's alpha for words without an order. Each case holds the answers given to it, missing ones left out; a
 * case with a single answer says nothing and is not counted. Krippendorff, Content Analysis (2nd ed. 2004), section
 * 11.3. Limits: 2,000 seeded draws of the cases with replacement, since that kept its level where Krippendorff's own
 * algorithm did not (Zapf, Castell, Morawietz and Karch, BMC Medical Research Methodology 16 (2016) 93). The central share
 * of the draws lies too low, as a draw repeats cases, and with a dozen cases held a simulated truth 79 to 94 times of 100;
 * so it is corrected (Efron's BCa, Journal of the American Statistical Association 82 (1987) 171-185) and widened as
 * Student's t is (Hesterberg, The American Statistician 69 (2015) 371-386). Draws that can't be said are left out; where
 * nearly all answers are alike, or fewer than three cases count, or no two answers to a case differ, there are no limits.
 */
export function krippendorffsAlpha(
  answers: readonly (readonly string[])[],
  level = usualLevel,
  seed = 1,
): ManyReaders {
  const words = [...new Set(answers.flat())];
  const pairable = answers
    .filter(({ length }) => length > 1)
    .map((given) => words.map((word) => given.filter((one) => one === word).length));
  const { alike, value } = alphaOf(pairable);
  const cases = pairable.length;
  if (value === null || value === 1 || cases < 3) return { cases, alike, value, low: null, high: null };
  const random = seededRandom(seed);
  const numbers = new Uint32Array(cases);
  const drawn: number[] = [];
  for (let draw = 0; draw < draws; draw++) {
    random(numbers);
    const sample = Array.from(numbers, (number) => pairable[Math.floor((number * cases) / 2 ** 32)] ?? []);
    const one = alphaOf(sample).value;
    if (one !== null) drawn.push(one);
  }
  if (drawn.length < draws / 2) return { cases, alike, value, low: null, high: null };
  drawn.sort((one, other) => one - other);
  const without = pairable.map((_, out) => alphaOf(pairable.filter((__, at) => at !== out)).value ?? value);
  const [low, high] = correctedShares(drawn, value, without, level).map(
    (share) => drawn[Math.round(share * (drawn.length - 1))] ?? null,
  );
  return { cases, alike, value, low: low ?? null, high: high ?? null };
}

/**
 * Which shares of the sorted draws are the limits: Efron's BCa, for a `value` that lies off the middle of the draws and
 * whose error changes with it, as the values `without` one case each tell; its tails are those of Student's t.
 */
function correctedShares(
  drawn: readonly number[],
  value: number,
  without: readonly number[],
  level: number,
): [number, number] {
  const cases = without.length;
  const below = drawn.filter((one) => one < value).length + drawn.filter((one) => one === value).length / 2;
  const edge = 0.5 / drawn.length;
  const off = normalQuantile(Math.min(1 - edge, Math.max(edge, below / drawn.length)), 0, 1);
  const middle = sum(without) / cases;
  const squares = sum(without.map((one) => (middle - one) ** 2));
  const bend =
    squares === 0 ? 0 : sum(without.map((one) => (middle - one) ** 3)) / (6 * Math.sqrt(squares) ** 3);
  const reach = -studentQuantile(tail(level), cases - 1) * Math.sqrt(cases / (cases - 1));
  const share = (z: number) => {
    const stretch = 1 - bend * (off + z);
    return stretch <= 0 ? Number(z > 0) : normalShare(off + (off + z) / stretch);
  };
  return [share(-reach), share(reach)];
}

/** 1 - observed / expected disagreement, from counts of each word in each case. */
function alphaOf(counts: readonly (readonly number[])[]): { alike: number | null; value: number | null } {
  let of = 0;
  let apart = 0;
  let alikePairs = 0;
  let pairs = 0;
  const totals: number[] = [];
  for (const row of counts) {
    const size = sum(row);
    const alike = sum(row.map((count) => count * (count - 1)));
    of += size;
    apart += (size * (size - 1) - alike) / (size - 1);
    alikePairs += alike;
    pairs += size * (size - 1);
    row.forEach((count, word) => (totals[word] = (totals[word] ?? 0) + count));
  }
  if (of === 0) return { alike: null, value: null };
  const expected = (of * of - sum(totals.map((total) => total * total))) / (of - 1);
  return { alike: alikePairs / pairs, value: expected === 0 ? null : 1 - apart / expected };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
