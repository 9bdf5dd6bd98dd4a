// How long things took: the middle of some lengths in seconds, how many they were, and how sure the middle is.

import type { MedianFigure } from "../figures";
import type { Play } from "./evidence";
import { markup, type Markup } from "./markup";
import { decimal } from "./numbers";
import { noneYet } from "./reader";

export function secondsWords(
  { count, median, low, high, least, most, entries }: MedianFigure,
  play: Play,
  key: string,
  of: string,
): Markup {
  if (median === null || least === null || most === null) return markup`${noneYet}`;
  const spread =
    low === null || high === null
      ? count === 1
        ? ""
        : `, from ${seconds(least)} to ${seconds(most)}`
      : `, limits ${seconds(low)} to ${seconds(high)}`;
  return markup`<span class="value">${seconds(median)}</span> <span class="limits">middle of ${play({ key, title: of, entries }, count)}${spread}</span>`;
}

function seconds(value: number): string {
  return `${decimal(value, value < 10 ? 1 : 0)}\u00a0s`;
}
