// Relative agreement, for values whose size differs by many powers of ten.

import { expect } from "vitest";

/** Expects two numbers to differ by at most `tolerance` times the larger size of the expected one and `floor`. */
export function expectClose(actual: number, expected: number, tolerance = 1e-11, floor = 0): void {
  const allowed = tolerance * Math.max(Math.abs(expected), floor);
  expect(Math.abs(actual - expected), `${actual} is not ${expected}`).toBeLessThanOrEqual(allowed);
}
