// What the drift says, as sentences for a coach: which way, whose attacks, how long a re-centre holds, which platform
// turns, whether the gap closed; each with how sure that is.

import type { Drift, DriftStudy, GapChange, Recentre } from "../figures";
import type { Bout } from "../bout/read";
import { formatTime, type Milliseconds } from "../bout/time";
import type { DriftByOpener } from "../piste";
import type { Ledger, Sided } from "../rules";
import type { Estimate } from "../statistics";
import { centimetres, counted, decimal, probability } from "./numbers";

/** A signed number in words: its size and, unless it rounds to none, its way. */
export interface Said {
  readonly size: (value: number) => string;
  readonly way: (value: number) => string;
  readonly none: string;
  readonly rounded: (value: number) => number;
}
export const along: Said = {
  size: (metres) => centimetres(Math.abs(metres)),
  way: (metres) => `towards the ${metres > 0 ? "right" : "left"} end`,
  none: "no move",
  rounded: (metres) => Number((metres * 100).toFixed(1)),
};
export const turn: Said = {
  size: (degrees) => `${decimal(Math.abs(degrees), 2)}\u00b0`,
  way: (degrees) => (degrees > 0 ? "counter-clockwise" : "clockwise"),
  none: "no turn",
  rounded: (degrees) => Number(degrees.toFixed(2)),
};

export const notEnough = "not enough steps to tell";

/** "3.1 cm towards the right end". */
export function told(value: number, said: Said): string {
  return said.rounded(value) === 0 ? said.none : `${said.size(value)} ${said.way(value)}`;
}

/** "2.0 cm to 4.2 cm", or with their ways where the limits lie on either side of none. */
export function toldLimits(low: number, high: number, said: Said): string {
  const oneWay = said.rounded(low) * said.rounded(high) > 0;
  if (!oneWay) return `${told(low, said)} to ${told(high, said)}`;
  const [near, far] = low > 0 ? [low, high] : [high, low];
  return `${said.size(near)} to ${said.size(far)}`;
}

export function phrasesIn({ steps }: Pick<Drift, "steps">): number {
  return steps.reduce((sum, step) => sum + step.phrases, 0);
}

/** Which way the platforms go. */
export function wayWords({ towards, note, alongPerPhrase, steps }: Drift): string {
  const phrases = counted(phrasesIn({ steps }), "phrase");
  if (alongPerPhrase === null)
    return `Which way the platforms drift can't be told from ${phrases}: ${note ?? notEnough}.`;
  const { low, high, value } = alongPerPhrase;
  if (towards === null)
    return `Which way the platforms drift can't be told from ${phrases}: anything from ${toldLimits(low, high, along)} a phrase fits.`;
  return `The platforms drift ${along.way(value)}, ${along.size(value)} a phrase (limits ${toldLimits(low, high, along)}), from ${phrases}.`;
}

/** Does it matter who opens? */
export function openerWords({ byOpener }: Drift, names: Sided<string>): string {
  const { left, right, other, p } = byOpener;
  const part = ({ phrases, perPhrase }: DriftByOpener, when: string): readonly string[] =>
    perPhrase === null ? [] : [`${when} ${told(perPhrase, along)} a phrase (${counted(phrases, "phrase")})`];
  const parts = [
    ...part(left, `when ${names.left} opened`),
    ...part(right, `when ${names.right} opened`),
    ...part(other, "in other phrases, and over steps in which both opened,"),
  ];
  if (parts.length === 0) return "";
  const sentence = capital(`${parts.join("; ")}.`);
  if (p === null)
    return `${sentence} Whether it matters who opens can't be told: steps with phrases opened by both sides, each alone, are needed.`;
  const phrases = counted(left.phrases + right.phrases, "phrase");
  return p < 0.05
    ? `${sentence} It matters who opens: chance alone ${p < 0.01 ? "would hardly ever" : "would seldom"} make so large a difference (${probability(p)}, from ${phrases}).`
    : `${sentence} Whether it matters who opens can't be told from ${phrases}: chance alone could well make this difference (${probability(p)}).`;
}

/** Where and how often the referee re-centred, and how many phrases that leaves. */
export function recentreWords(recentres: readonly Recentre[]): string {
  if (recentres.length === 0) return "No re-centre is in the log.";
  const after = listed(recentres.map((one) => String(one.after)));
  const phrases = recentres.reduce((sum, one) => sum + one.phrases, 0) / recentres.length;
  const crept = recentres.flatMap((one) => (one.crept === null ? [] : [one.crept]));
  const places =
    crept.length === 0
      ? ""
      : ` By then the platforms had gone ${listed(crept.map((one) => `${told(one.along, along)} (\u00b1 ${centimetres(one.error)})`))}.`;
  return `The referee re-centred ${recentres.length === 1 ? "once" : `${recentres.length} times`}, after ${recentres.length === 1 ? "phrase" : "phrases"} ${after}: that leaves ${decimal(phrases, 1)} phrases to a stretch on average.${places}`;
}

/** Hands and what is said of them, beside what this bout shows. */
export function handWords({ fencers }: Bout, { alongPerPhrase, turnPerPhrase }: Drift): string {
  const [left, right] = [fencers.left.hand, fencers.right.hand];
  if (left === undefined || right === undefined)
    return "Which hands the fencers use is not in the file, so nothing is said about what their pairing would lead one to expect.";
  const pairing =
    left === right
      ? `Both fence with the ${left} hand, their chairs on opposite sides of the bar: common practice expects turning.`
      : "One fences with the left and one with the right hand: common practice expects sliding.";
  return `${pairing} That has no source and is to be tested, not assumed. Here: ${sureOf(alongPerPhrase, along, "sliding")}; ${sureOf(turnPerPhrase, turn, "turning")}.`;
}

function sureOf(estimate: Estimate | null, said: Said, what: string): string {
  if (estimate === null) return `${what} can't be told`;
  const { low, high, value } = estimate;
  const limits = toldLimits(low, high, said);
  return low > 0 || high < 0
    ? `${what}, ${told(value, said)} a phrase (${limits})`
    : `${what} can't be told (${limits} a phrase)`;
}

/** Which platform turns against the bar. */
export function twistWords({ twistPerPhrase }: Drift): string {
  const { left, right } = twistPerPhrase;
  if (left === null || right === null) return "Whether a platform turns against the bar can't be told.";
  return `Against the bar, the left platform: ${sureOf(left, turn, "twisting")}; the right one: ${sureOf(right, turn, "twisting")}.`;
}

/** As a finding would say it. */
export function gapSentence({ from, to, change, error }: GapChange): string {
  return `The platforms ${change < 0 ? "closed" : "came apart"} by ${decimal(Math.abs(change) * 100, 1)} \u00b1 ${centimetres(error)} between ${spoken(from.at)} and ${spoken(to.at)}; chair and seat not measured; consider asking for the distance.`;
}

export function gapWords({ gapChanges, drift }: Pick<DriftStudy, "gapChanges" | "drift">): readonly string[] {
  if (gapChanges.length > 0) return gapChanges.map(gapSentence);
  return drift?.gap === null || drift === null
    ? ["The gap between the platforms can't be told."]
    : ["No change of the gap goes beyond its error."];
}

export const unseenWords =
  "What can't be seen here: a chair that shifts on its platform, and a fencer who sits off-square.";

/** All that the drift says, a sentence each; empty without a step. */
export function driftSentences(study: DriftStudy, { bout }: Ledger): readonly string[] {
  const { drift, recentres } = study;
  if (drift === null) return [];
  const { left, right } = bout.fencers;
  const opener = openerWords(drift, { left: left.name, right: right.name });
  return [
    wayWords(drift),
    ...(opener === "" ? [] : [opener]),
    recentreWords(recentres),
    ...gapWords(study),
    twistWords(drift),
    handWords(bout, drift),
    unseenWords,
  ];
}

/** "7, 15 and 22". */
function listed(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1) ?? ""}`;
}

/** A time without its thousandths. */
export function spoken(at: Milliseconds): string {
  return formatTime(at).replace(/\.\d+$/, "");
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
