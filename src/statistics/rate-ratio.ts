// How many times as fast do events come in one time as in another?

import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { requireCount, usualLevel } from "./level";
import { clopperPearsonInterval } from "./proportion";

/** Events counted over a positive time. */
export interface Events {
  readonly count: number;
  readonly time: number;
}

/** First rate over second. `value` and `high` may be Infinity. */
export interface RateRatio {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Two-sided: twice the smaller tail, so that it agrees with the limits. */
  readonly p: number;
}

/**
 * Ratio of two Poisson rates, exact given the sum of both counts, which must not be 0: the first count is then
 * binomial. Przyborowski and Wilenski, Biometrika 31 (1940) 313-323; limits after Clopper and Pearson (1934).
 */
export function rateRatio(first: Events, second: Events, level = usualLevel): RateRatio {
  for (const { count, time } of [first, second]) {
    requireCount(count, "count");
    if (!(time > 0 && time < Infinity)) throw new RangeError(`time must be positive and finite, not ${time}`);
  }
  const events = first.count + second.count;
  if (events === 0) throw new RangeError("a ratio needs at least one event");
  const scale = second.time / first.time;
  // Both limits from lower ones: 1 less an upper limit near 1 would lose its digits.
  const low = clopperPearsonInterval(first.count, events, level).low;
  const otherLow = clopperPearsonInterval(second.count, events, level).low;
  const share = first.time / (first.time + second.time);
  const fewer = binomialCdf(first.count, events, share);
  const more = binomialCdf(second.count, events, 1 - share);
  return {
    value: (first.count / second.count) * scale,
    low: first.count === 0 ? 0 : (low / (1 - low)) * scale,
    high: second.count === 0 ? Infinity : ((1 - otherLow) / otherLow) * scale,
    p: Math.min(1, 2 * Math.min(fewer, more)),
  };
}
