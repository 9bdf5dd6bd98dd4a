// Would the gap between two groups' rates be as wide if it did not matter which stretch belonged to which group?

import { seededRandom } from "./random";
import { type RatioPart, requireParts, total } from "./ratio";

/** `difference`: rate of the first group less that of the second. `arrangements` were looked at, all there are or drawn. */
export interface PermutationResult {
  readonly difference: number;
  readonly p: number;
  readonly arrangements: number;
  readonly drawn: boolean;
}

/** Up to this many arrangements all of them are looked at. */
const allUpTo = 100_000;
const draws = 10_000;

/**
 * Two-sided permutation test of the difference between two rates (total amount / total exposure): the share of the
 * arrangements of the parts into groups of the same two sizes whose difference is at least as far from 0 as the one
 * seen. Fisher, The Design of Experiments (1935); Pitman, Supplement to the Journal of the Royal Statistical Society
 * 4 (1937) 119-130. Up to 100,000 arrangements are all looked at; else 10,000 are drawn with the given seed, and the
 * one seen counts as one more: p = (b + 1) / (10,000 + 1) (Davison and Hinkley, Bootstrap Methods and their
 * Application, 1997, section 4.2), so that p is never 0 and the test never too bold. Both groups need a part.
 */
export function permutationTest(
  first: readonly RatioPart[],
  second: readonly RatioPart[],
  seed = 1,
): PermutationResult {
  const all = [...first, ...second];
  requireParts(all);
  if (first.length === 0 || second.length === 0) throw new RangeError("Both groups need a part");
  const difference = rate(total(first)) - rate(total(second));
  const smaller = Math.min(first.length, second.length);
  const isExtreme = extremeness(all, Math.abs(difference));
  const arrangements = combinations(all.length, smaller, allUpTo);
  if (arrangements <= allUpTo) {
    const extreme = countInAll(all, smaller, isExtreme);
    return { difference, p: extreme / arrangements, arrangements, drawn: false };
  }
  const extreme = countInDraws(all, smaller, isExtreme, seed);
  return { difference, p: (extreme + 1) / (draws + 1), arrangements: draws, drawn: true };
}

function rate({ amount, exposure }: RatioPart): number {
  return amount / exposure;
}

type IsExtreme = (amount: number, exposure: number) => boolean;

/**
 * Tells from the totals of one group whether the difference is at least as large as the one seen. Sums of the same
 * numbers in another order differ in their last digits, so a shortfall far below any measurement counts as a tie.
 */
function extremeness(all: readonly RatioPart[], seen: number): IsExtreme {
  const whole = total(all);
  const largest = all.reduce((sum, part) => sum + Math.abs(part.amount), 0);
  const shortest = all.reduce((least, part) => Math.min(least, part.exposure), Infinity);
  const enough = seen - 1e-12 * (largest / shortest);
  return (amount, exposure) =>
    Math.abs(amount / exposure - (whole.amount - amount) / (whole.exposure - exposure)) >= enough;
}

/** Binomial coefficient, or Infinity as soon as it passes the limit. */
function combinations(n: number, k: number, limit: number): number {
  let result = 1;
  for (let i = 1; i <= k; i++) {
    result = (result * (n - k + i)) / i;
    if (result > limit) return Infinity;
  }
  return Math.round(result);
}

/** Walks every choice of `size` parts, carrying the totals of the parts chosen so far down the tree of choices. */
function countInAll(all: readonly RatioPart[], size: number, isExtreme: IsExtreme): number {
  const choose = (from: number, missing: number, amount: number, exposure: number): number => {
    let extreme = 0;
    for (let index = from; index <= all.length - missing; index++) {
      const part = all[index];
      if (part === undefined) break;
      const nextAmount = amount + part.amount;
      const nextExposure = exposure + part.exposure;
      if (missing > 1) extreme += choose(index + 1, missing - 1, nextAmount, nextExposure);
      else if (isExtreme(nextAmount, nextExposure)) extreme++;
    }
    return extreme;
  };
  return choose(0, size, 0, 0);
}

/**
 * Draws `size` parts without replacement again and again by the first steps of a Fisher-Yates shuffle. Each draw starts
 * from the order the last one left, which is as good as any: the parts drawn are uniform whatever the order before.
 */
function countInDraws(all: readonly RatioPart[], size: number, isExtreme: IsExtreme, seed: number): number {
  const random = seededRandom(seed);
  const amounts = Float64Array.from(all, (part) => part.amount);
  const exposures = Float64Array.from(all, (part) => part.exposure);
  const order = Uint32Array.from(all.keys());
  const numbers = new Uint32Array(size);
  let extreme = 0;
  for (let draw = 0; draw < draws; draw++) {
    random(numbers);
    bringForward(order, numbers);
    if (isExtreme(sumOfFirst(amounts, order, size), sumOfFirst(exposures, order, size))) extreme++;
  }
  return extreme;
}

/**
 * Fills each place in turn from the places not filled yet. Scaling a 32-bit number to `left` places favours some of
 * them by at most left / 2^32, far below what 10,000 draws can show.
 */
function bringForward(order: Uint32Array, numbers: Uint32Array): void {
  for (let place = 0; place < numbers.length; place++) {
    const left = order.length - place;
    const other = place + Math.floor(((numbers[place] ?? 0) * left) / 2 ** 32);
    const brought = order[other] ?? 0;
    order[other] = order[place] ?? 0;
    order[place] = brought;
  }
}

function sumOfFirst(values: Float64Array, order: Uint32Array, size: number): number {
  let sum = 0;
  for (let place = 0; place < size; place++) sum += values[order[place] ?? 0] ?? 0;
  return sum;
}
