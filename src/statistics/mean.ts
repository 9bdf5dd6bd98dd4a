// Where does the mean of a few measurements lie?

import studentQuantile from "@stdlib/stats-base-dists-t-quantile";
import { type Interval, requireFinite, tail, usualLevel } from "./level";

/** A mean with its limits and its standard error, all in the unit of the values. */
export interface MeanInterval extends Interval {
  readonly value: number;
  readonly standardError: number;
}

/**
 * Quantile of Student's t distribution (Student, Biometrika 6 (1908) 1-25) with positive `degrees` of freedom,
 * for a probability between 0 and 1.
 */
export function tQuantile(probability: number, degrees: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`A probability lies between 0 and 1, not ${probability}`);
  }
  if (!(degrees > 0 && degrees < Infinity)) {
    throw new RangeError(`Degrees of freedom are positive and finite, not ${degrees}`);
  }
  return studentQuantile(probability, degrees);
}

/** How many standard errors a central t interval with `degrees` of freedom reaches to each side. */
export function tHalfWidth(degrees: number, level = usualLevel): number {
  return -tQuantile(tail(level), degrees);
}

/** Mean and t interval (Student 1908) of at least two finite values. */
export function meanInterval(values: readonly number[], level = usualLevel): MeanInterval {
  requireFinite(values, "values");
  const n = values.length;
  if (n < 2) throw new RangeError(`A t interval needs two values, not ${n}`);
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const standardError = Math.sqrt(squares / (n - 1) / n);
  const half = tHalfWidth(n - 1, level) * standardError;
  return { value: mean, standardError, low: mean - half, high: mean + half };
}
