// Do the values lean to one side of zero, going by their signs alone?

import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { requireCount } from "./level";

/** Signs counted, exact zeros left out, and the two-sided probability of as uneven a split by chance. */
export interface SignTest {
  readonly positive: number;
  readonly negative: number;
  readonly p: number;
}

/** Exact two-sided sign test (Arbuthnott 1710; binomial with probability one half). */
export function signTest(values: readonly number[]): SignTest {
  if (values.some(Number.isNaN)) throw new RangeError("A sign test can't take NaN");
  const positive = values.filter((value) => value > 0).length;
  const negative = values.filter((value) => value < 0).length;
  return { positive, negative, p: signTestOfCounts(positive, negative) };
}

/** The same from counted signs: twice the smaller tail, at most 1; 1 where there is no sign at all. */
export function signTestOfCounts(positive: number, negative: number): number {
  requireCount(positive, "positive");
  requireCount(negative, "negative");
  const signs = positive + negative;
  if (signs === 0) return 1;
  return Math.min(1, 2 * binomialCdf(Math.min(positive, negative), signs, 0.5));
}
