// How a counted number stands in a cell: the count itself, which plays its evidence, and how sure the rate made of it is.

import type { EvidencedCountPerMinute, EvidencedRate } from "../figures";
import type { Play, Playable } from "./evidence";
import { intervalBar } from "./interval-bar";
import { markup, type Markup } from "./markup";
import { clock, decimal, fewestForPercentage, percent, percentLimits } from "./numbers";

/** `x of n`, the percentage and its limits as text and as a bar. From fewer than five only the counts are told, with the
 * bar to show how little they say. `of` plays all that were counted, the count those that count. */
export function rateCell(
  play: Play,
  rate: EvidencedRate,
  counted: Omit<Playable, "entries">,
  all?: Playable,
): Markup {
  const { count, of, value, low, high, entries } = rate;
  const counts = markup`<span class="counts">${play({ ...counted, entries }, count)} of ${all === undefined ? of : play(all, of)}</span>`;
  if (value === null || low === null || high === null) return markup`<div class="rate">${counts}</div>`;
  const enough = of >= fewestForPercentage;
  return markup`<div class="rate">${counts} <span class="value">${enough && percent(value)}</span> ${intervalBar(
    { value: enough ? value : null, low, high },
  )} <span class="limits">${enough ? percentLimits(low, high) : tooFew}</span></div>`;
}

/** Said to those who don't see that the percentage is missing. */
const tooFew = markup`<span class="unseen">too few for a percentage</span>`;

/** Events a minute, with limits on a track that ends at `most`. */
export function perMinuteCell(
  play: Play,
  { count, minutes, value, low, high, entries }: EvidencedCountPerMinute,
  what: Omit<Playable, "entries">,
  most: number,
): Markup {
  if (value === null || low === null || high === null)
    return markup`<div class="rate"><span class="counts">no fencing time</span></div>`;
  return markup`<div class="rate"><span class="counts">${play({ ...what, entries }, count)} in ${clock(minutes * 60)}</span> <span class="value">${decimal(value, 1)}</span> ${intervalBar({ value, low, high }, [0, most], [])} <span class="limits">${decimal(low, 1)} to ${decimal(high, 1)}</span></div>`;
}
