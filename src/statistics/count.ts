// How many is that really? Events counted over a time, such as touches a minute.

import gammaQuantile from "@stdlib/stats-base-dists-gamma-quantile";
import { type Interval, requireCount, tail, usualLevel } from "./level";

/** Events counted over `minutes`: `value` a minute, with its limits. The three are null where `minutes` is 0. */
export interface CountPerMinute {
  readonly count: number;
  readonly minutes: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Exact interval of the mean of a Poisson count. Garwood, Biometrika 28 (1936) 437-442, whose halved chi-square
 * quantiles with 2 count and 2 count + 2 degrees of freedom are quantiles of gamma distributions.
 */
export function poissonInterval(count: number, level = usualLevel): Interval {
  requireCount(count, "count");
  const outside = tail(level);
  return {
    low: count === 0 ? 0 : gammaQuantile(outside, count, 1),
    high: gammaQuantile(1 - outside, count + 1, 1),
  };
}

/** Exact (Garwood) interval of events per unit of `exposure`, which is positive and taken as known. */
export function rateInterval(count: number, exposure: number, level = usualLevel): Interval {
  if (!(exposure > 0 && exposure < Infinity)) {
    throw new RangeError(`exposure must be positive and finite, not ${exposure}`);
  }
  const { low, high } = poissonInterval(count, level);
  return { low: low / exposure, high: high / exposure };
}

/** Events a minute with their exact (Garwood) limits; nulls where no time passed. */
export function perMinute(count: number, minutes: number, level = usualLevel): CountPerMinute {
  if (minutes !== 0)
    return { count, minutes, value: count / minutes, ...rateInterval(count, minutes, level) };
  requireCount(count, "count");
  tail(level);
  return { count, minutes, value: null, low: null, high: null };
}
