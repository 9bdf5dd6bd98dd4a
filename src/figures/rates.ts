// Rates that remember what they were counted from.

import {
  clopperPearsonRate,
  medianInterval,
  pairedDifference,
  perMinute,
  wilsonRate,
  type CountPerMinute,
  type Rate,
} from "../statistics";

/** Entries of the log, in its order. */
export type Entries = readonly number[];

/** `entries` are the ones counted, so there are `count` of them. */
export interface EvidencedRate extends Rate {
  readonly entries: Entries;
}
export interface EvidencedCountPerMinute extends CountPerMinute {
  readonly entries: Entries;
}

/** Touches for less touches against, for ten phrases (Newcombe's paired difference); nulls where there is no phrase. */
export interface Net {
  readonly of: number;
  readonly for: number;
  readonly against: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** The middle of some lengths. Limits are null under six; all but `count` are null without any. */
export interface MedianFigure {
  readonly count: number;
  readonly median: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly least: number | null;
  readonly most: number | null;
  readonly entries: Entries;
}

/** Share of `of` with Wilson limits. */
export function wilson(entries: Entries, of: number): EvidencedRate {
  return { ...wilsonRate(entries.length, of), entries };
}

/** Share of `of` with exact (Clopper-Pearson) limits. */
export function exact(entries: Entries, of: number): EvidencedRate {
  return { ...clopperPearsonRate(entries.length, of), entries };
}

/** Events a minute with exact (Garwood) limits. */
export function minutely(entries: Entries, minutes: number): EvidencedCountPerMinute {
  return { ...perMinute(entries.length, minutes), entries };
}

/** Of `of` phrases: those with a touch for this side alone, against it alone, and for each. */
export function netOf(
  alone: { readonly for: number; readonly against: number; readonly each: number },
  of: number,
): Net {
  const { for: won, against, each } = alone;
  const counts = { of, for: won + each, against: against + each };
  if (of === 0) return { ...counts, value: null, low: null, high: null };
  const found = pairedDifference({
    both: each,
    first: won,
    second: against,
    neither: of - won - against - each,
  });
  return { ...counts, value: 10 * found.value, low: 10 * found.low, high: 10 * found.high };
}

/** The median of what was measured, one value an entry. */
export function medianOf(values: readonly number[], entries: Entries): MedianFigure {
  const count = values.length;
  if (count === 0) return { count, median: null, low: null, high: null, least: null, most: null, entries };
  const { value, low, high } = medianInterval(values);
  return {
    count,
    median: value,
    low,
    high,
    least: values.reduce((least, one) => Math.min(least, one), Infinity),
    most: values.reduce((most, one) => Math.max(most, one), -Infinity),
    entries,
  };
}
