// The plan: three things to do, each beside the phrases it is tied to. In a file as a page to print and write on; in the
// panel only what stands under the field a coach writes in.

import type { Brief, BriefEvidence, ShownPlan, ShownThing, ShownTie } from "../../figures/brief";
import { formatDate } from "../dates";
import { markup, type Content, type Markup } from "../markup";
import { clock, counted } from "../numbers";
import type { BriefPlay } from "./evidence";

/** Phrases of a tie that are listed one by one. */
const listed = 6;

/** The plan of a file: what is written, and lines to write on where nothing is. */
export function planOnPaper(brief: Brief, { things }: ShownPlan, play: BriefPlay): Markup {
  if (things.every(({ words, ties, suggestion }) => words === "" && ties.length === 0 && suggestion === null))
    return markup`<p>Nothing to plan from yet: three bouts are needed.</p>`;
  return markup`<ol class="plan">${things.map(
    (thing, at) => markup`<li>${
      thing.words.trim() === ""
        ? markup`${thing.suggestion === null ? "" : about(thing, at, play)}<p class="lines"><span class="unseen">room to write</span></p>`
        : markup`<p class="words">${thing.words.trim()}</p>`
    }
${lookAt(brief, thing, at, play)}</li>`,
  )}</ol>`;
}

function lookAt(brief: Brief, { ties, suggestion }: ShownThing, at: number, play: BriefPlay): Content {
  if (suggestion !== null)
    return markup`<p class="key">Look at: ${places(brief, suggestion.phrases, `plan.${at}`, suggestion.about, play)}</p>`;
  return ties.map(
    (tie, index) =>
      markup`<p class="key">${tie.about} ${extent(tie)}: ${places(brief, spread(tie), `plan.${at}.${index}`, tie.about, play)}${tie.phrases.length > listed && ` and ${tie.phrases.length - listed} more`}.</p>`,
  );
}

/** For each thing to do, what stands under its field in the panel. */
export function planNotes(brief: Brief, { things }: ShownPlan, play: BriefPlay): readonly string[] {
  return things.map((thing, at) => {
    if (thing.suggestion !== null)
      return markup`<div class="offer">${about(thing, at, play)}
<p class="key">Look first at: ${places(brief, thing.suggestion.phrases, `plan.${at}`, thing.suggestion.about, play)}. What you write above is tied to these phrases.</p></div>`
        .text;
    if (thing.ties.length === 0)
      return markup`<p class="key">Tied to no phrases yet: play a figure, then choose “Tie to ${at + 1}” below.</p>`
        .text;
    return markup`<ul class="ties">${thing.ties.map((tie, index) => tied(brief, tie, at, index, play))}</ul>`
      .text;
  });
}

function tied(brief: Brief, tie: ShownTie, at: number, index: number, play: BriefPlay): Markup {
  const key = `plan.${at}.tie.${index}`;
  return markup`<li>${play({ key, title: tie.about, evidence: evidenceOf(tie), plain: true }, tie.about)} <span class="note">${extent(tie)}</span> <button type="button" class="meaning" data-key="${key}.untie" data-untie="${tie.about}" data-thing="${at}" aria-label="untie from ${at + 1}: ${tie.about}">untie</button>
<p class="key">${places(brief, spread(tie), key, tie.about, play)}${tie.phrases.length > listed && ` and ${tie.phrases.length - listed} more`}</p></li>`;
}

function about({ suggestion }: ShownThing, at: number, play: BriefPlay): Content {
  if (suggestion === null) return undefined;
  const { about: what, shown, evidence } = suggestion;
  return markup`<p>${play({ key: `plan.${at}`, title: what, evidence, plain: true }, what)}${!shown && markup` <span class="note">(not shown by these bouts; look and judge)</span>`}</p>`;
}

function extent({ phrases, lost }: ShownTie): string {
  const bouts = new Set(phrases.map(({ file }) => file)).size;
  const gone = lost === 0 ? "" : `; ${lost} not in the bout files any more`;
  return `(${counted(phrases.length, "phrase")} of ${counted(bouts, "bout")}${gone})`;
}

function places(
  brief: Brief,
  phrases: ShownTie["phrases"],
  key: string,
  title: string,
  play: BriefPlay,
): Content {
  return phrases.map(
    ({ file, entry, at: time }, index) =>
      markup`${index > 0 && "; "}${play({ key: `${key}.${index}`, title: `${title}, one phrase`, evidence: [{ file, entries: [entry] }], plain: true }, `${placeOf(brief, file)} at ${clock(time / 1000)}`)}`,
  );
}

/** The opponent and the day say more than a file's name. */
function placeOf({ bouts }: Brief, file: string): string {
  const bout = bouts.find((one) => one.file === file);
  if (bout === undefined) return shortName(file);
  return `${bout.opponent.name}, ${formatDate(bout.date ?? undefined) ?? shortName(file)},`;
}

export function shortName(file: string): string {
  return file.slice(Math.max(file.lastIndexOf("/"), file.lastIndexOf("\\")) + 1).replace(/\.bout\.json$/, "");
}

/** The first of each bout, then the second of each, and so on. */
function spread({ phrases }: ShownTie): ShownTie["phrases"] {
  const rounds = new Map<string, number>();
  return phrases
    .map((phrase, order) => {
      const round = rounds.get(phrase.file) ?? 0;
      rounds.set(phrase.file, round + 1);
      return { phrase, round, order };
    })
    .sort((one, other) => one.round - other.round || one.order - other.order)
    .slice(0, listed)
    .map(({ phrase }) => phrase);
}

function evidenceOf({ phrases }: ShownTie): BriefEvidence {
  const files = new Map<string, number[]>();
  for (const { file, entry } of phrases) files.set(file, [...(files.get(file) ?? []), entry]);
  return [...files].map(([file, entries]) => ({ file, entries }));
}
