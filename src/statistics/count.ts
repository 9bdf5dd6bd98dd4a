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
    low: count === 0 ? 0 : meanOf(count - 1, 1 - outside, gammaQuantile(outside, count, 1)),
    high: meanOf(count, outside, gammaQuantile(1 - outside, count + 1, 1)),
  };
}

/** From here on the quantile was measured to be up to 2e-3 of itself too large; below it agrees to 1e-14. */
const digitsLost = 1000;

/** The mean at which `count` or fewer events have this probability; Newton's method finds the quantile's lost digits. */
function meanOf(count: number, upTo: number, quantile: number): number {
  if (quantile < digitsLost) return quantile;
  let mean = quantile;
  for (let step = 0; step < 4; step++) {
    const exactly = probability(count, mean);
    mean += (exactly * upToOverExactly(count, mean) - upTo) / exactly;
  }
  return mean;
}

/** Poisson probability of a large count, its factorial by the first terms of Stirling's series. */
function probability(count: number, mean: number): number {
  const factorial = Math.log(2 * Math.PI * count) / 2 + 1 / (12 * count) - 1 / (360 * count ** 3);
  return Math.exp(count - mean + count * Math.log(mean / count) - factorial);
}

/** Poisson probability of up to `count` events, as a multiple of that of exactly so many. */
function upToOverExactly(count: number, mean: number): number {
  let sum = 0;
  let part = 1;
  for (let fewer = count; part > Number.EPSILON * sum; fewer--) {
    sum += part;
    part *= fewer / mean;
  }
  return sum;
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
