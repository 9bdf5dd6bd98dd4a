// What do several groups say together, when groups differ from one another? A share over bouts, and a difference over
// bouts, with limits that grow with how far the bouts disagree.

import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import studentCdf from "@stdlib/stats-base-dists-t-cdf";
import { type Interval, requireCount, requireFinite, tail, usualLevel } from "./level";
import { tHalfWidth, tQuantile } from "./mean";
import type { Share } from "./difference";

export interface PooledShare {
  readonly count: number;
  readonly of: number;
  /** Groups with something to count. */
  readonly groups: number;
  /** `count / of`; null where there is nothing to count. */
  readonly value: number | null;
  /** Null under two groups: how far groups differ is then unknown. */
  readonly low: number | null;
  readonly high: number | null;
  /** Standard deviation of the groups' own shares beyond what counting alone gives, as a share; null under two groups. */
  readonly between: number | null;
}

/**
 * The share over all groups, with limits from how far the groups' own shares scatter: the linearised variance between
 * groups gives an effective number of observations, corrected by t with groups - 1 degrees of freedom and never more
 * than were counted, which goes into the exact limits. Korn and Graubard, Survey Methodology 24 (1998) 193-201.
 * `between` is the moment estimate of the beta-binomial model (one-way analysis of variance), 0 where the groups differ
 * by no more than chance: Ridout, Demétrio and Firth, Biometrics 55 (1999) 137-148.
 */
export function pooledShare(groups: readonly Share[], level = usualLevel): PooledShare {
  for (const { count, of } of groups) {
    requireCount(count, "count");
    requireCount(of, "of");
    if (count > of) throw new RangeError(`count is at most of: ${count} is more than ${of}`);
  }
  const used = groups.filter(({ of }) => of > 0);
  const count = used.reduce((sum, group) => sum + group.count, 0);
  const of = used.reduce((sum, group) => sum + group.of, 0);
  const found = { count, of, groups: used.length };
  const value = of === 0 ? null : count / of;
  if (value === null || used.length < 2) return { ...found, value, low: null, high: null, between: null };
  return { ...found, value, ...shareLimits(used, value, of, level), between: spreadBetween(used, value, of) };
}

function shareLimits(groups: readonly Share[], value: number, of: number, level: number): Interval {
  const outside = tail(level);
  const effective = Math.min(of, effectiveNumber(groups, value, of, outside));
  const count = value * effective;
  return {
    low: value === 0 ? 0 : betaQuantile(outside, count, effective - count + 1),
    high: value === 1 ? 1 : betaQuantile(1 - outside, count + 1, effective - count),
  };
}

function effectiveNumber(groups: readonly Share[], value: number, of: number, outside: number): number {
  const k = groups.length;
  const squares = groups.reduce((sum, group) => sum + (group.count - value * group.of) ** 2, 0);
  const variance = ((k / (k - 1)) * squares) / (of * of);
  if (variance === 0) return of;
  const correction = of > 1 ? tQuantile(outside, of - 1) / tQuantile(outside, k - 1) : 1;
  return ((value * (1 - value)) / variance) * correction ** 2;
}

function spreadBetween(groups: readonly Share[], value: number, of: number): number {
  const k = groups.length;
  if (of <= k) return 0;
  const between =
    groups.reduce((sum, group) => sum + group.of * (group.count / group.of - value) ** 2, 0) / (k - 1);
  const within =
    groups.reduce((sum, group) => sum + group.count * (1 - group.count / group.of), 0) / (of - k);
  const size = (of - groups.reduce((sum, group) => sum + group.of ** 2, 0) / of) / (k - 1);
  const total = between + (size - 1) * within;
  const correlation = total <= 0 ? 0 : Math.min(1, Math.max(0, (between - within) / total));
  return Math.sqrt(correlation * value * (1 - value));
}

/** What one group measured, with the variance of its error, which is positive. */
export interface Measured {
  readonly value: number;
  readonly variance: number;
}

export interface PooledMean extends Interval {
  readonly groups: number;
  readonly value: number;
  readonly standardError: number;
  /** Standard deviation of the groups' true values, in the values' unit. */
  readonly between: number;
  /** Two-sided, for a mean of 0. */
  readonly p: number;
}

/**
 * Random-effects mean of at least two groups. The variance between them is Paule and Mandel's (Journal of Research of
 * the National Bureau of Standards 87 (1982) 377-385); limits and test are Hartung and Knapp's with t on groups - 1
 * degrees of freedom (Statistics in Medicine 20 (2001) 3875-3889), their factor never below 1 (Röver, Knapp and Friede,
 * BMC Medical Research Methodology 15 (2015) 99).
 */
export function pooledMean(groups: readonly Measured[], level = usualLevel): PooledMean {
  const k = groups.length;
  if (k < 2) throw new RangeError(`A mean over groups needs two of them, not ${k}`);
  requireFinite(
    groups.flatMap(({ value, variance }) => [value, variance]),
    "values and variances",
  );
  if (groups.some(({ variance }) => variance <= 0)) throw new RangeError("A variance is positive");
  const variance = varianceBetween(groups);
  const { value, weight, scatter } = weighted(groups, variance);
  const standardError = Math.sqrt(Math.max(1, scatter / (k - 1)) / weight);
  const half = tHalfWidth(k - 1, level) * standardError;
  return {
    groups: k,
    value,
    standardError,
    between: Math.sqrt(variance),
    low: value - half,
    high: value + half,
    p: Math.min(1, 2 * studentCdf(-Math.abs(value) / standardError, k - 1)),
  };
}

/** At which the weighted scatter is what groups - 1 degrees of freedom expect; 0 where it is below that already. */
function varianceBetween(groups: readonly Measured[]): number {
  const excess = (variance: number) => weighted(groups, variance).scatter - (groups.length - 1);
  if (excess(0) <= 0) return 0;
  let low = 0;
  let high = Math.max(...groups.map(({ variance }) => variance));
  while (excess(high) > 0) high *= 2;
  // Halving ends where neighbouring numbers leave nothing between them.
  for (let step = 0; step < 200 && high - low > 1e-14 * high; step++) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function weighted(groups: readonly Measured[], between: number) {
  let weight = 0;
  let sum = 0;
  for (const { value, variance } of groups) {
    const one = 1 / (variance + between);
    weight += one;
    sum += one * value;
  }
  const value = sum / weight;
  let scatter = 0;
  for (const group of groups) scatter += (group.value - value) ** 2 / (group.variance + between);
  return { value, weight, scatter };
}

/** Slope of a weighted straight line, in units of y for one of x. */
export interface Slope extends Interval {
  readonly value: number;
  readonly degrees: number;
  readonly p: number;
}

/**
 * Weighted least squares with a level of its own for each `group` and one slope for all, t limits on what is left of the
 * degrees of freedom (Draper and Smith, Applied Regression Analysis, 3rd ed. 1998, chapters 9 and 14). Null where
 * fewer than two degrees are left or nothing varies in x within a group.
 */
export function commonSlope(
  points: readonly {
    readonly x: number;
    readonly y: number;
    readonly weight: number;
    readonly group: string;
  }[],
  level = usualLevel,
): Slope | null {
  const means = new Map<string, { weight: number; x: number; y: number }>();
  for (const { x, y, weight, group } of points) {
    const mean = means.get(group) ?? { weight: 0, x: 0, y: 0 };
    means.set(group, { weight: mean.weight + weight, x: mean.x + weight * x, y: mean.y + weight * y });
  }
  const degrees = points.length - means.size - 1;
  if (degrees < 2) return null;
  const centred = points.map(({ x, y, weight, group }) => {
    const mean = means.get(group) ?? { weight: 1, x: 0, y: 0 };
    return { x: x - mean.x / mean.weight, y: y - mean.y / mean.weight, weight };
  });
  const squares = centred.reduce((sum, { x, weight }) => sum + weight * x * x, 0);
  if (squares < 1e-12) return null;
  const value = centred.reduce((sum, { x, y, weight }) => sum + weight * x * y, 0) / squares;
  const left = centred.reduce((sum, { x, y, weight }) => sum + weight * (y - value * x) ** 2, 0);
  const standardError = Math.sqrt(left / degrees / squares);
  const half = tHalfWidth(degrees, level) * standardError;
  const p =
    standardError === 0 ? (value === 0 ? 1 : 0) : 2 * studentCdf(-Math.abs(value) / standardError, degrees);
  return { value, degrees, low: value - half, high: value + half, p };
}
