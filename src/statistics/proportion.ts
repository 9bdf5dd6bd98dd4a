// How large is a share, such as the touches of all attacks, given how often it was counted?

import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import { type Interval, normalHalfWidth, requireCount, tail, usualLevel } from "./level";

/** A share counted: `count` of `of`, with its limits. The three numbers are null where `of` is 0. */
export interface Rate {
  readonly count: number;
  readonly of: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Score interval without continuity correction, for a share `count / of`; `of` from 1.
 * Wilson, Journal of the American Statistical Association 22 (1927) 209-212.
 */
export function wilsonInterval(count: number, of: number, level = usualLevel): Interval {
  requireShare(count, of);
  const z = normalHalfWidth(level);
  const spread = z * Math.sqrt(z * z + (4 * count * (of - count)) / of);
  const scale = 2 * (of + z * z);
  return {
    low: count === 0 ? 0 : (2 * count + z * z - spread) / scale,
    high: count === of ? 1 : (2 * count + z * z + spread) / scale,
  };
}

/**
 * Exact interval, never too narrow, for a share `count / of`; `of` from 1.
 * Clopper and Pearson, Biometrika 26 (1934) 404-413, in its form with quantiles of the beta distribution.
 */
export function clopperPearsonInterval(count: number, of: number, level = usualLevel): Interval {
  requireShare(count, of);
  const outside = tail(level);
  return {
    low: count === 0 ? 0 : betaQuantile(outside, count, of - count + 1),
    high: count === of ? 1 : betaQuantile(1 - outside, count + 1, of - count),
  };
}

/** A share with its Wilson limits; nulls where there is nothing to count. */
export function wilsonRate(count: number, of: number, level = usualLevel): Rate {
  return rate(count, of, level, wilsonInterval);
}

/** A share with its Clopper-Pearson limits; nulls where there is nothing to count. */
export function clopperPearsonRate(count: number, of: number, level = usualLevel): Rate {
  return rate(count, of, level, clopperPearsonInterval);
}

function rate(count: number, of: number, level: number, interval: typeof wilsonInterval): Rate {
  if (of === 0 && count === 0) {
    tail(level);
    return { count, of, value: null, low: null, high: null };
  }
  return { count, of, value: count / of, ...interval(count, of, level) };
}

function requireShare(count: number, of: number): void {
  requireCount(count, "count");
  requireCount(of, "of");
  if (of === 0) throw new RangeError("of must be at least 1");
  if (count > of) throw new RangeError(`count is at most of: ${count} is more than ${of}`);
}
