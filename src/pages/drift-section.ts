// Do the platforms creep, and which way? The drift of a bout in words a coach uses, with how sure they are.

import type { DriftByOpener, DriftSummary } from "../piste";
import type { Ledger, Sided } from "../rules";
import type { Estimate } from "../statistics";
import { driftChart } from "./drift-chart";
import { movesTable, platformMoves } from "./drift-moves";
import type { EntryKeys } from "./entry-keys";
import type { Play } from "./evidence";
import { intervalBar } from "./interval-bar";
import { markup, type Markup } from "./markup";
import { centimetres, counted, decimal, probability } from "./numbers";
import { chartSizes } from "./score-chart";

export function driftSection(
  drift: DriftSummary | null,
  ledger: Ledger,
  names: Sided<string>,
  keys: EntryKeys,
  play: Play,
): Markup {
  if (drift === null)
    return markup`<p>Nothing to tell yet: mark where both platforms stand before a phrase and again after it, and the drift between them shows here.</p>`;
  const { alongPerPhrase, turnPerPhrase, gap, byOpener, signTest } = drift;
  const label = chartWords(drift);
  const moves = platformMoves(drift, ledger, keys);
  const playable = ledger.bout.recordings.length > 0;
  const between = {
    key: "drift.phrases",
    title: "phrases between marked platforms",
    entries: moves.flatMap(({ entries }) => entries),
  };
  return markup`<p class="answer">${answer(drift)}</p>
<figure>${chartSizes.map((size) => driftChart(moves, size, label, playable))}<figcaption>How far the platforms moved between two places where they were marked, above the line towards the right end, with 95 % limits from the clicks. ${play(between, counted(phrasesIn(drift), "phrase"))} lie between them.</figcaption></figure>
${movesTable(moves, (metres) => told(metres, along), play)}
<table class="plain"><caption class="unseen">Drift in numbers</caption><tbody>${[
    line(
      "along the piste, each phrase",
      alongPerPhrase === null ? notEnough : estimate(alongPerPhrase, along),
    ),
    line("moves that way and the other", signs(signTest)),
    line("when left opened", opener(byOpener.left, names.left)),
    line("when right opened", opener(byOpener.right, names.right)),
    byOpener.other.phrases > 0 && line("other phrases, and steps with both", opener(byOpener.other)),
    byOpener.p !== null && line("does it matter who opens", openersDiffer(byOpener.p)),
    line("turn, each phrase", turnPerPhrase === null ? notEnough : estimate(turnPerPhrase, turn)),
    gap !== null && line("gap between the inner corners", gapWords(gap)),
  ]}</tbody></table>`;
}

const notEnough = "not enough steps to tell";

function line(title: string, content: Markup | string): Markup {
  return markup`<tr><th scope="row">${title}</th><td>${content}</td></tr>`;
}

function answer({ towards, note, alongPerPhrase, steps }: DriftSummary): string {
  const phrases = counted(phrasesIn({ steps }), "phrase");
  if (alongPerPhrase === null)
    return `Which way the platforms drift can't be told from ${phrases}: ${note ?? notEnough}.`;
  const { low, high, value } = alongPerPhrase;
  if (towards === null)
    return `Which way the platforms drift can't be told from ${phrases}: anything from ${toldLimits(low, high, along)} a phrase fits.`;
  return `The platforms drift ${along.way(value)}, ${along.size(value)} a phrase (limits ${toldLimits(low, high, along)}), from ${phrases}.`;
}

/** A signed number in words: its size and, unless it rounds to none, its way. */
interface Said {
  readonly size: (value: number) => string;
  readonly way: (value: number) => string;
  readonly none: string;
  readonly rounded: (value: number) => number;
}
const along: Said = {
  size: (metres) => centimetres(Math.abs(metres)),
  way: (metres) => `towards the ${metres > 0 ? "right" : "left"} end`,
  none: "no move",
  rounded: (metres) => Number((metres * 100).toFixed(1)),
};
const turn: Said = {
  size: (degrees) => `${decimal(Math.abs(degrees), 1)}\u00b0`,
  way: (degrees) => (degrees > 0 ? "counter-clockwise" : "clockwise"),
  none: "no turn",
  rounded: (degrees) => Number(degrees.toFixed(1)),
};

/** "3.1 cm towards the right end". */
function told(value: number, said: Said): string {
  return said.rounded(value) === 0 ? said.none : `${said.size(value)} ${said.way(value)}`;
}

/** "2.0 cm to 4.2 cm", or with their ways where the limits lie on either side of none. */
function toldLimits(low: number, high: number, said: Said): string {
  const oneWay = said.rounded(low) * said.rounded(high) > 0;
  if (!oneWay) return `${told(low, said)} to ${told(high, said)}`;
  const [near, far] = low > 0 ? [low, high] : [high, low];
  return `${said.size(near)} to ${said.size(far)}`;
}

function estimate({ value, low, high }: Estimate, said: Said): Markup {
  const most = Math.max(Math.abs(low), Math.abs(high)) * 1.1 || 1;
  return markup`<span class="value">${told(value, said)}</span> ${intervalBar({ value, low, high }, [-most, most], [0])} <span class="limits">${toldLimits(low, high, said)}</span>`;
}

function signs({ right, left, p }: DriftSummary["signTest"]): Markup {
  return markup`<span class="value">${right} to the right, ${left} to the left</span> <span class="limits">chance alone ${chance(p)} split them so unevenly (${probability(p)})</span>`;
}

/** How readily chance alone would give a split or a difference at least this large. */
function chance(p: number): string {
  return p < 0.01 ? "would hardly ever" : p < 0.05 ? "would seldom" : "could well";
}

function opener({ phrases, perPhrase }: DriftByOpener, name?: string): Markup {
  const who = name === undefined ? "" : ` opened by ${name}`;
  if (perPhrase === null) return markup`no such phrases${who}`;
  return markup`<span class="value">${told(perPhrase, along)} a phrase</span> <span class="limits">${counted(phrases, "phrase")}${who}</span>`;
}

function openersDiffer(p: number): Markup {
  const words =
    p < 0.05
      ? "yes, so large a difference is seldom chance"
      : "can't be told: chance alone could well make this difference";
  return markup`${words} <span class="limits">(${probability(p)})</span>`;
}

function gapWords({ first, last, change, error }: NonNullable<DriftSummary["gap"]>): Markup {
  const now = markup`<span class="value">${centimetres(first)} first, ${centimetres(last)} last</span>`;
  if (change === null)
    return markup`<span class="value">${centimetres(first)}</span> <span class="limits">marked once</span>`;
  if (error === null) return now;
  const sure = Math.abs(change) > error;
  return markup`${now} <span class="limits">${
    sure ? (change < 0 ? "they closed up by" : "they came apart by") : "no change beyond the clicks:"
  } ${centimetres(sure ? Math.abs(change) : change)} \u00b1 ${centimetres(error)}</span>`;
}

function phrasesIn({ steps }: Pick<DriftSummary, "steps">): number {
  return steps.reduce((sum, step) => sum + step.phrases, 0);
}

function chartWords(drift: DriftSummary): string {
  return `Moves of the platforms along the piste in ${counted(drift.steps.length, "step")}. ${answer(drift)} The table "Every move" below says the same in numbers.`;
}
