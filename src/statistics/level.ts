// What the intervals share: their two limits, the confidence level, and the arguments they refuse.

import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** The level used wherever none is named: 95 %. */
export const usualLevel = 0.95;

/** The probability left out on each side of a central interval. Throws a RangeError unless 0 < level < 1. */
export function tail(level: number): number {
  if (!(level > 0 && level < 1)) throw new RangeError(`A level lies between 0 and 1, not ${level}`);
  return (1 - level) / 2;
}

/** How many standard deviations a central interval of a normal quantity reaches to each side: 1.959964 at 95 %. */
export function normalHalfWidth(level = usualLevel): number {
  return -normalQuantile(tail(level), 0, 1);
}

/** Share of a normal quantity that lies below `z` standard deviations: its quantile, searched from both sides. */
export function normalShare(z: number): number {
  let [low, high] = [0, 1];
  while (high - low > 1e-12) {
    const share = (low + high) / 2;
    if (normalQuantile(share, 0, 1) < z) low = share;
    else high = share;
  }
  return (low + high) / 2;
}

/** Throws a RangeError unless the value is a whole number from 0. */
export function requireCount(value: number, name: string): void {
  if (!Number.isSafeInteger(value) || value < 0) {
    throw new RangeError(`${name} must be a whole number from 0, not ${value}`);
  }
}

/** Throws a RangeError unless every value is finite. */
export function requireFinite(values: readonly number[], name: string): void {
  const wrong = values.find((value) => !Number.isFinite(value));
  if (wrong !== undefined) throw new RangeError(`${name} must be finite, not ${wrong}`);
}
