// Where does the middle of some measurements lie?

import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { requireFinite, tail, usualLevel } from "./level";

/** Null limits where there are too few values for any: fewer than six at 95 %. */
export interface MedianInterval {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Median of at least one finite value, with distribution-free limits: two of the values themselves, as many from each
 * end. Thompson, Annals of Mathematical Statistics 7 (1936) 122-128.
 */
export function medianInterval(values: readonly number[], level = usualLevel): MedianInterval {
  requireFinite(values, "values");
  const n = values.length;
  if (n === 0) throw new RangeError("A median needs a value");
  const outside = tail(level);
  const sorted = Float64Array.from(values).sort();
  const at = (place: number) => sorted[place] ?? NaN;
  const half = n >> 1;
  const value = n % 2 === 1 ? at(half) : (at(half - 1) + at(half)) / 2;
  let passed = Math.max(0, Math.floor(n / 2 - Math.sqrt(n) * 4));
  if (binomialCdf(passed, n, 0.5) > outside) passed = 0;
  if (binomialCdf(passed, n, 0.5) > outside) return { value, low: null, high: null };
  while (binomialCdf(passed + 1, n, 0.5) <= outside) passed++;
  return { value, low: at(passed), high: at(n - 1 - passed) };
}
