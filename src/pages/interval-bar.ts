// How sure is a number? Its 95 % limits drawn as a bar on a track, the number itself as a mark on it. The text beside
// the bar says the same, so readers of the page's text are told nothing twice.

import { scaleLinear } from "d3-scale";
import { markup, type Markup } from "./markup";

const width = 84;
const height = 12;

export interface Limits {
  /** Null where the number itself is not to be read off, only how far it may lie. */
  readonly value: number | null;
  readonly low: number;
  readonly high: number;
}

/** `domain` is what the track's ends stand for; `marks` are faint lines on it. */
export function intervalBar(
  { value, low, high }: Limits,
  domain: readonly [number, number] = [0, 1],
  marks: readonly number[] = [0.5],
): Markup {
  const x = scaleLinear(domain, [1, width - 1]).clamp(true);
  const from = x(low);
  const long = Math.max(2, x(high) - from);
  return markup`<svg class="bar" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" aria-hidden="true" focusable="false"><path class="track" d="M1 2V10M${width - 1} 2V10M1 6H${width - 1}${marks.map((mark) => `M${short(x(mark))} 4V8`)}"/><rect class="range" x="${short(from)}" y="3" width="${short(long)}" height="6" rx="1"/>${
    value !== null && markup`<path class="point" d="M${short(x(value))} 0V12"/>`
  }</svg>`;
}

/** A coordinate with one decimal, which is a tenth of a pixel. */
export function short(coordinate: number): number {
  return Math.round(coordinate * 10) / 10;
}
