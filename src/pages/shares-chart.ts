// Shares with their 95 % limits under one another: a bar for the limits, a stroke for the share, the counts beside them.

import { scaleLinear } from "d3-scale";
import type { EvidencedRate } from "../figures";
import { short } from "./interval-bar";
import { markup, type Markup } from "./markup";
import { fewestForPercentage, percent, percentLimits } from "./numbers";

export interface ShareGroup {
  readonly title: string;
  readonly rows: readonly { readonly label: string; readonly rate: EvidencedRate }[];
}

const width = 860;
const left = 240;
const right = 250;
const line = 24;
const gap = 14;

export function sharesChart(groups: readonly ShareGroup[]): Markup {
  const x = scaleLinear([0, 1], [left, width - right]);
  let y = 6;
  const drawn: Markup[] = [];
  for (const { title, rows } of groups) {
    y += line;
    drawn.push(markup`<text class="group" x="12" y="${y - 7}">${title}</text>`);
    for (const { label, rate } of rows) {
      y += line;
      drawn.push(share(label, rate, y - line / 2, x));
    }
    y += gap;
  }
  const bottom = y;
  const ticks = [0, 0.25, 0.5, 0.75, 1];
  return markup`<svg class="chart shares" viewBox="0 0 ${width} ${bottom + 24}" role="img" aria-label="${words(groups)}"><g class="grid">${ticks.map(
    (tick) => markup`<path d="M${short(x(tick))} 6V${bottom}"/>`,
  )}</g><g class="ticks">${ticks.map(
    (tick) =>
      markup`<text x="${short(x(tick))}" y="${bottom + 16}" text-anchor="middle">${percent(tick)}</text>`,
  )}</g>${drawn}</svg>`;
}

function share(label: string, rate: EvidencedRate, middle: number, x: (share: number) => number): Markup {
  const { value, low, high } = rate;
  const bar =
    low !== null &&
    high !== null &&
    markup`<rect class="range" x="${short(x(low))}" y="${middle - 5}" width="${short(Math.max(2, x(high) - x(low)))}" height="10" rx="1"/>`;
  const point =
    value !== null &&
    rate.of >= fewestForPercentage &&
    markup`<path class="point" d="M${short(x(value))} ${middle - 8}V${middle + 8}"/>`;
  return markup`<g><text x="24" y="${middle + 4}">${label}</text>${bar}${point}<text class="counts" x="${width - right + 12}" y="${middle + 4}">${counts(rate)}</text></g>`;
}

function counts({ count, of, value, low, high }: EvidencedRate): string {
  if (value === null || low === null || high === null || of < fewestForPercentage) return `${count} of ${of}`;
  return `${count} of ${of}, ${percent(value)} (${percentLimits(low, high)})`;
}

function words(groups: readonly ShareGroup[]): string {
  const told = groups.map(
    ({ title, rows }) => `${title}: ${rows.map(({ label, rate }) => `${label} ${counts(rate)}`).join("; ")}`,
  );
  return `Shares with 95 % limits. ${told.join(". ")}.`;
}
