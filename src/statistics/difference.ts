// How far apart are two shares, of different cases or of the same ones?

import { type Interval, usualLevel } from "./level";
import { wilsonInterval } from "./proportion";
import type { Estimate } from "./ratio";

/** A share as counted; `of` from 1. */
export interface Share {
  readonly count: number;
  readonly of: number;
}

/**
 * First share less second, of different cases, with limits from the Wilson limits of both: method 10 of Newcombe,
 * Statistics in Medicine 17 (1998) 873-890.
 */
export function shareDifference(first: Share, second: Share, level = usualLevel): Estimate {
  const one = { value: first.count / first.of, ...wilsonInterval(first.count, first.of, level) };
  const other = { value: second.count / second.of, ...wilsonInterval(second.count, second.of, level) };
  const value = one.value - other.value;
  return {
    value,
    low: value - Math.hypot(one.value - one.low, other.high - other.value),
    high: value + Math.hypot(one.high - one.value, other.value - other.low),
  };
}

/** The same cases judged twice: how many have both, the first alone, the second alone, neither. */
export interface Pairs {
  readonly both: number;
  readonly first: number;
  readonly second: number;
  readonly neither: number;
}

/**
 * Share with the first less share with the second, of the same cases (at least one), such as touches for less touches
 * against: method 10 of Newcombe, Statistics in Medicine 17 (1998) 2635-2650, its phi continuity-corrected.
 */
export function pairedDifference(pairs: Pairs, level = usualLevel): Estimate {
  const { both, first, second, neither } = pairs;
  const of = both + first + second + neither;
  const one = limits(both + first, of, level);
  const other = limits(both + second, of, level);
  const phi = correctedPhi(pairs);
  const value = (first - second) / of;
  return {
    value,
    low: value - spread(one.value - one.low, other.high - other.value, phi),
    high: value + spread(one.high - one.value, other.value - other.low, phi),
  };
}

function limits(count: number, of: number, level: number): Interval & { readonly value: number } {
  return { value: count / of, ...wilsonInterval(count, of, level) };
}

function spread(one: number, other: number, phi: number): number {
  return Math.sqrt(Math.max(0, one * one - 2 * phi * one * other + other * other));
}

/** Correlation of the two judgements; 0 where one of them never varies. */
function correctedPhi({ both, first, second, neither }: Pairs): number {
  const margins = (both + first) * (second + neither) * (both + second) * (first + neither);
  if (margins === 0) return 0;
  const cross = both * neither - first * second;
  const half = (both + first + second + neither) / 2;
  const corrected = cross > half ? cross - half : Math.min(cross, 0);
  return corrected / Math.sqrt(margins);
}
