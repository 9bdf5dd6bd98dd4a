// Tables of a brief: kinds of phrases and whose touch they were, shares, and what was compared.

import type { Brief, BriefComparison, PooledRate, SharePart, TouchRow } from "../../figures/brief";
import { intervalBar } from "../interval-bar";
import { markup, type Content, type Markup } from "../markup";
import { counted, decimal, fewestForPercentage, percent, percentLimits, probability } from "../numbers";
import type { BriefPlay } from "./evidence";

/** Count, percentage, limits over bouts. From fewer than five only the counts are told. */
export function pooledCell(play: BriefPlay, rate: PooledRate, key: string, title: string): Markup {
  const { count, of, value, low, high, groups, evidence } = rate;
  const counts = markup`<span class="counts">${play({ key, title, evidence }, count)} of ${of}</span>`;
  if (value === null || of < fewestForPercentage) return markup`<div class="rate">${counts}</div>`;
  if (low === null || high === null)
    return markup`<div class="rate">${counts} <span class="value">${percent(value)}</span> <span class="limits">${counted(groups, "bout")}: no limits</span></div>`;
  return markup`<div class="rate">${counts} <span class="value">${percent(value)}</span> ${intervalBar({ value, low, high })} <span class="limits">${percentLimits(low, high)}</span></div>`;
}

export function touchTable(play: BriefPlay, title: string, first: string, rows: readonly TouchRow[]): Markup {
  if (rows.length === 0) return markup`<p>${title}: none yet.</p>`;
  return markup`<div class="wide-table" tabindex="0" role="region" aria-label="${title}"><table class="grid-table"><caption>${title}</caption><thead><tr><th scope="col">${first}</th><th scope="col" class="number">bouts</th><th scope="col" class="number">phrases</th><th scope="col">touch for</th><th scope="col">touch against</th><th scope="col" class="number">bouts differ by</th></tr></thead><tbody>${rows.map(
    (row) => touchLine(play, row, title),
  )}</tbody></table></div>`;
}

export function touchLine(play: BriefPlay, row: TouchRow, title: string): Markup {
  const { key, label, bouts, phrases, evidence } = row;
  const what = `${title}: ${label}`;
  return markup`<tr><th scope="row">${label}</th><td class="number">${bouts}</td><td class="number">${play({ key, title: what, evidence }, phrases)}</td><td>${pooledCell(play, row.for, `${key}.for`, `${what}, touch for`)}</td><td>${pooledCell(play, row.against, `${key}.against`, `${what}, touch against`)}</td><td class="number">${between(row.for)}</td></tr>`;
}

/** How far bouts differ in the share of touches for. */
function between({ between: spread, groups }: PooledRate): string {
  if (spread === null || groups < 3) return "not known";
  const points = Math.round(spread * 100);
  return points === 0 ? "chance" : `\u00b1${points} points`;
}

export function shareTable(play: BriefPlay, key: string, title: string, rows: readonly SharePart[]): Markup {
  if (rows.length === 0) return markup`<p>${title}: none yet.</p>`;
  return markup`<table class="plain"><caption>${title}</caption><tbody>${rows.map(
    ({ label, share }) =>
      markup`<tr><th scope="row">${label}</th><td>${pooledCell(play, share, `${key}.${label}`, `${title}: ${label}`)}</td></tr>`,
  )}</tbody></table>`;
}

export function comparisonsTable({ comparisons }: Brief, play: BriefPlay): Markup {
  const { tried, list } = comparisons;
  if (tried === 0) return markup`<p>Too few bouts to compare anything: three are needed.</p>`;
  const passed = list.filter(({ passes }) => passes).length;
  return markup`<p class="answer">${counted(tried, "comparison")} tried; ${passed === 0 ? "none shows" : passed === 1 ? "1 shows" : `${passed} show`} more than chance would make.</p>
<p class="key">Each bout is compared with itself, so the opponent is the same on both sides; the bouts are then taken together as a sample of such bouts. Limits are those of one comparison by itself. The probability p is corrected for how many were tried (Holm); below 0.05 a difference counts as more than chance; of the others these bouts could show nothing.</p>
<div class="wide-table" tabindex="0" role="region" aria-label="Comparisons"><table class="grid-table compared"><caption class="unseen">Every comparison tried, those that show something first</caption><thead><tr><th scope="col">compared</th><th scope="col">seen</th><th scope="col" class="number">bouts</th><th scope="col">difference and limits</th><th scope="col" class="number">p</th></tr></thead><tbody>${[
    ...list.filter(({ passes }) => passes),
    ...list.filter(({ passes }) => !passes),
  ].map((one) => comparisonLine(one, play))}</tbody></table></div>`;
}

/** What a comparison could not show stands once above the table, not in every row. */
function comparisonLine(one: BriefComparison, play: BriefPlay): Markup {
  const { key, question, bouts, difference, adjusted, passes, words } = one;
  const side = (name: "first" | "second"): Content => {
    const { label, count, of, evidence } = one[name];
    return markup`<p>${play({ key: `comparison.${key}.${name}`, title: `${question}: ${label}`, evidence }, count)} of ${of} <span class="note">${label}</span></p>`;
  };
  const unit = one.kind === "trend" ? "points a year" : "points";
  const chance = probability(adjusted).replace("p ", "").replace("= ", "");
  return markup`<tr${passes && markup` class="passes"`} data-comparison="${key}"><th scope="row">${passes ? words : question}</th><td>${side("first")}${side("second")}</td><td class="number">${bouts}</td><td>${signed(difference.value)} ${unit} <span class="limits">${signed(difference.low)} to ${signed(difference.high)}</span></td><td class="number">${chance}</td></tr>`;
}

function signed(share: number): string {
  const text = decimal(share * 100, 0);
  return share > 0 && Number(text) !== 0 ? `+${text}` : text;
}
