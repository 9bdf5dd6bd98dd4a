// Rates that remember what they were counted from.

import { perMinute, wilsonRate, clopperPearsonRate, type CountPerMinute, type Rate } from "../statistics";

/** Entries of the log, in its order. */
export type Entries = readonly number[];

/** `entries` are the ones counted, so there are `count` of them. */
export interface EvidencedRate extends Rate {
  readonly entries: Entries;
}
export interface EvidencedCountPerMinute extends CountPerMinute {
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
