// How much a unit? A total amount over a total exposure, such as metres of drift over phrases fenced.

import { type Interval, requireFinite, usualLevel } from "./level";
import { tHalfWidth } from "./mean";

/** One observed stretch: what was gained in it, and how many units it lasted (positive). */
export interface RatioPart {
  readonly amount: number;
  readonly exposure: number;
}

/** A value with its limits. */
export interface Estimate extends Interval {
  readonly value: number;
}

/**
 * R = total amount / total exposure of n parts, with the limits
 * R ± t(n - 1) · sqrt(n / (n - 1) · Σ(amount - R · exposure)²) / Σ exposure. At least two parts.
 * The ratio estimator and its standard error are those of Cochran, Sampling Techniques (3rd ed. 1977, chapter 6),
 * without the correction for a finite population.
 */
export function ratioInterval(parts: readonly RatioPart[], level = usualLevel): Estimate {
  requireParts(parts);
  const n = parts.length;
  if (n < 2) throw new RangeError(`Limits of a ratio need two parts, not ${n}`);
  const { amount, exposure } = total(parts);
  const value = amount / exposure;
  const squares = parts.reduce((sum, part) => sum + (part.amount - value * part.exposure) ** 2, 0);
  const half = (tHalfWidth(n - 1, level) * Math.sqrt((n / (n - 1)) * squares)) / exposure;
  return { value, low: value - half, high: value + half };
}

/** Sums of amount and exposure. */
export function total(parts: readonly RatioPart[]): RatioPart {
  let amount = 0;
  let exposure = 0;
  for (const part of parts) {
    amount += part.amount;
    exposure += part.exposure;
  }
  return { amount, exposure };
}

/** Throws a RangeError unless every amount is finite and every exposure positive and finite. */
export function requireParts(parts: readonly RatioPart[]): void {
  for (const { amount, exposure } of parts) {
    requireFinite([amount, exposure], "amount and exposure");
    if (exposure <= 0) throw new RangeError(`exposure must be positive, not ${exposure}`);
  }
}
