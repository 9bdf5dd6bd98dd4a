// Do the platforms creep, and which way? The drift of a bout in words a coach uses, with how sure they are.

import { driftStudyOf, tracksOf, type Drift, type DriftStudy, type LeftOut, type Stretch } from "../figures";
import type { DriftByOpener } from "../piste";
import type { Ledger, Sided } from "../rules";
import type { Estimate } from "../statistics";
import { driftChart, type PositionChart } from "./drift-chart";
import { movesTable, placesTable, platformMoves, type PlatformMove } from "./drift-moves";
import { driftPlan, mostStrips } from "./drift-plan";
import {
  along,
  gapWords,
  handWords,
  notEnough,
  openerWords,
  phrasesIn,
  recentreWords,
  told,
  toldLimits,
  turn,
  twistWords,
  unseenWords,
  wayWords,
  type Said,
} from "./drift-words";
import type { EntryKeys } from "./entry-keys";
import type { Play } from "./evidence";
import { intervalBar } from "./interval-bar";
import { markup, type Markup } from "./markup";
import { centimetres, counted, probability } from "./numbers";
import { chartSizes } from "./score-chart";

export function driftSection(
  drift: Drift | null,
  ledger: Ledger,
  names: Sided<string>,
  keys: EntryKeys,
  play: Play,
  playable = ledger.bout.recordings.length > 0,
): Markup {
  const study = driftStudyOf(ledger);
  if (drift === null)
    return markup`<p>Nothing to tell yet: mark where both platforms stand before a phrase and again after it, and the drift between them shows here.</p>${leftOut(study.refused)}`;
  const { alongPerPhrase, turnPerPhrase, twistPerPhrase, gap, byOpener, signTest } = drift;
  const moves = platformMoves(drift, ledger, keys);
  const chart = positionChart(drift, study, moves, playable);
  const between = {
    key: "drift.phrases",
    title: "phrases between marked platforms",
    entries: moves.flatMap(({ entries }) => entries),
  };
  const openers = openerWords(drift, names);
  return markup`<p class="answer">${wayWords(drift)}</p>
${openers !== "" && markup`<p class="answer">${openers}</p>`}
<figure>${chartSizes.map((size) => driftChart(chart, size))}<figcaption>Where the middle of both platforms stood along the piste, against the phrases fenced; 0 is the centre. Lines are stretches in which the platforms could creep, broken lines are re-centres. Bars: 95 % limits, from the clicks, of the way from the first place of a stretch, shown as a ring. ${play(between, counted(phrasesIn(drift), "phrase"))} lie between marked places.</figcaption></figure>
${plan(study)}
<ul class="said-plainly">${[
    recentreWords(study.recentres),
    ...gapWords(study),
    twistWords(drift),
    handWords(ledger.bout, drift),
    unseenWords,
  ].map((sentence) => markup`<li>${sentence}</li>`)}</ul>
${movesTable(moves, play)}
${placesTable(study.stretches)}
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
    twistPerPhrase.left !== null &&
      line("left platform against the bar", estimate(twistPerPhrase.left, turn)),
    twistPerPhrase.right !== null &&
      line("right platform against the bar", estimate(twistPerPhrase.right, turn)),
    gap !== null && line("gap between the inner corners", gapCell(gap)),
  ]}</tbody></table>
${leftOut(study.refused)}`;
}

function positionChart(
  drift: Drift,
  study: DriftStudy,
  moves: readonly PlatformMove[],
  playable: boolean,
): PositionChart {
  return {
    tracks: tracksOf(study),
    moves: new Map(moves.map((move) => [move.step.to, move])),
    label: chartWords(drift),
    playable,
  };
}

function planWords(stretches: readonly Stretch[]): string {
  const strips = stretches.filter(({ places }) => places.length > 1);
  return `Plan of the piste from above with the path of both platforms in ${counted(strips.length, "stretch", "stretches")}. The table "Every place" below gives each place in numbers.`;
}

function plan(study: DriftStudy): Markup | undefined {
  const { stretches } = study;
  const tracks = tracksOf(study);
  const strips = stretches.filter(({ places }) => places.length > 1);
  if (strips.length === 0) return undefined;
  const label = planWords(stretches);
  const more = strips.length - mostStrips;
  return markup`<figure>${chartSizes.map((size) => driftPlan(tracks, size, label))}<figcaption>The piste from above, to scale, the referee at the bottom: the near edge of each platform at the first place of a stretch (pale) and at the last (dark), and the path of its middle. Numbers are the places in order.${more > 0 && ` ${counted(more, "more stretch", "more stretches")} are in the table.`}</figcaption></figure>`;
}

function leftOut(refused: readonly LeftOut[]): Markup | undefined {
  if (refused.length === 0) return undefined;
  return markup`<details data-key="left-out"><summary>${counted(refused.length, "mark")} left out, and why</summary><ul>${refused.map(
    ({ at, reason }) => markup`<li>${at}: ${reason}.</li>`,
  )}</ul></details>`;
}

function line(title: string, content: Markup | string): Markup {
  return markup`<tr><th scope="row">${title}</th><td>${content}</td></tr>`;
}

function estimate({ value, low, high }: Estimate, said: Said): Markup {
  const most = Math.max(Math.abs(low), Math.abs(high)) * 1.1 || 1;
  return markup`<span class="value">${told(value, said)}</span> ${intervalBar({ value, low, high }, [-most, most], [0])} <span class="limits">${toldLimits(low, high, said)}</span>`;
}

function signs({ right, left, p }: Drift["signTest"]): Markup {
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

function gapCell({ first, last, change, error }: NonNullable<Drift["gap"]>): Markup {
  const now = markup`<span class="value">${centimetres(first)} first, ${centimetres(last)} last</span>`;
  if (change === null)
    return markup`<span class="value">${centimetres(first)}</span> <span class="limits">marked once</span>`;
  if (error === null) return now;
  const sure = Math.abs(change) > error;
  return markup`${now} <span class="limits">${
    sure ? (change < 0 ? "they closed up by" : "they came apart by") : "no change beyond the clicks:"
  } ${centimetres(sure ? Math.abs(change) : change)} \u00b1 ${centimetres(error)}</span>`;
}

function chartWords(drift: Drift): string {
  return `Place of the platforms along the piste against the phrases fenced, over ${counted(drift.steps.length, "step")}. ${wayWords(drift)} The table "Every place" below says the same in numbers.`;
}
