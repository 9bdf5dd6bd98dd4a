// A class and its agreement as one HTML file without scripts. Every row leads to the players of its clips, which lie in
// the pack's folder; the content policy lets in nothing else.

import { caution } from "../figures/caution";
import type { ClassAgreement, ClipRate } from "../figures/class-agreement";
import {
  coefficient,
  meaningOfAgreement,
  passText,
  sureWords,
  verdictInRow,
  wayWords,
  waysText,
} from "./class-words";
import type { Markup } from "./markup";
import { markup, type Content } from "./markup";
import { counted, decimal, fewestForPercentage, percent, percentLimits } from "./numbers";
import { htmlFile, type Style } from "./html-file";

/** `clips`: the way from the page to the pack's folder, as in an address, ending in a slash or empty. */
export function classAgreementFile(found: ClassAgreement, style: Style, clips: string): string {
  const number = new Map(found.clips.map(({ clip }, index) => [clip, index + 1]));
  const plays = (ids: readonly string[]) =>
    [...ids]
      .sort((one, other) => (number.get(one) ?? 0) - (number.get(other) ?? 0))
      .map(
        (id) => markup`<a href="#clip-${id}" aria-label="play clip ${number.get(id)}">${number.get(id)}</a> `,
      );
  const page = markup`<div class="sheet class-agreement">
<header><p class="kind">Agreement of the class</p><h1>${found.title}</h1>
<p>${counted(found.readers, "reader")}, ${counted(found.clips.length, "clip")}; ${found.passMark === null ? "no pass mark is set" : `pass mark ${percent(found.passMark)} of the marks`}. Clips are numbered from the hardest.</p></header>
${section("What the class agrees on", together(found, plays))}
${section("Hardest clips first", hardest(found, plays))}
${section("Each reader against the reference", readers(found, plays))}
${section("Actions taken for others", confusions(found, plays))}
${section("Sure and right", sureness(found, plays))}
${found.ways !== null && section("As live and at the monitor", markup`<p>${waysText(found.ways)}</p><p>As live ${share(found.ways.live)}; at the monitor ${share(found.ways.monitor)}. Clips <span class="plays">${plays(found.ways.live.clips)}</span></p>`)}
${section("How to read this", markup`${meaningOfAgreement.map((text) => markup`<p>${text}</p>`)}<p>${found.scheme}</p>`)}
<section class="screen"><h2>The clips</h2><div class="players">${found.clips.map(
    ({ clip, file }) =>
      markup`<figure id="clip-${clip}" tabindex="-1"><video controls="" preload="none" src="${clips}${file}" aria-label="Clip ${number.get(clip)}"></video><figcaption>Clip ${number.get(clip)}</figcaption></figure>`,
  )}</div></section>
<footer class="cautions"><h2>Before you use this</h2><ul>${caution.map((one) => markup`<li>${one}</li>`)}</ul></footer>
</div>`;
  // A page from a disk has no origin that 'self' could mean in every browser.
  return htmlFile(`${found.title}: agreement of the class`, style, page, "'self' file:");
}

type Plays = (ids: readonly string[]) => Content;

function section(title: string, content: Content): Markup {
  return markup`<section class="part"><h2>${title}</h2>${content}</section>`;
}

function table(label: string, heads: readonly string[], rows: readonly (readonly Content[])[]): Markup {
  return markup`<div class="wide-table" role="region" aria-label="${label}" tabindex="0"><table><thead><tr>${heads.map((head) => markup`<th scope="col">${head}</th>`)}</tr></thead><tbody>${rows.map(
    ([first, ...rest]) =>
      markup`<tr><th scope="row">${first}</th>${rest.map((cell) => markup`<td>${cell}</td>`)}</tr>`,
  )}</tbody></table></div>`;
}

/** The count always; the percentage and its limits from five. */
function share({ count, of, value, low, high }: Omit<ClipRate, "clips">): string {
  if (value === null || low === null || high === null) return "none";
  return `${count} of ${of}${of < fewestForPercentage ? "" : `, ${percent(value)} (${percentLimits(low, high)})`}`;
}

function together(found: ClassAgreement, plays: Plays): Markup {
  const rows = found.together.map((one) => [
    one.title,
    coefficient(one.alpha),
    one.fleiss === null ? "\u2013" : coefficient(one.fleiss),
    verdictInRow(one),
    markup`<span class="plays">${one.split.length === 0 ? plays(one.clips) : plays(one.split)}</span>`,
  ]);
  return table(
    "What the class agrees on",
    ["part", "alpha", "Fleiss' kappa", "in words", "clips they differ on, or all"],
    rows,
  );
}

function hardest({ clips }: ClassAgreement, plays: Plays): Markup {
  const rows = clips.map(({ clip, reference, standing, right, calls, missing }) => [
    markup`<span class="plays">${plays([clip])}</span>`,
    standing === "scored" ? (reference ?? "\u2013") : "for discussion",
    right === null ? "not scored" : share(right),
    calls.map(({ call, count }) => `${call} ${count}`).join("; ") || "no call",
    missing,
  ]);
  return table("Hardest clips first", ["clip", "reference", "right", "calls of the class", "no call"], rows);
}

function readers({ sittings }: ClassAgreement, plays: Plays): Markup {
  const rows = sittings.map(({ reader, way, finished, marks, call, repeats, parts, ...rest }) => [
    `${reader}, ${wayWords[way]}${finished ? "" : ", not finished"}`,
    marks.share === null ? "none" : `${decimal(marks.earned, 1)} of ${marks.of}, ${percent(marks.share)}`,
    passText({ reader, way, finished, marks, call, repeats, parts, ...rest }),
    share(call.rate),
    coefficient(call.kappa),
    ...(["offence", "card"] as const).map((name) => {
      const part = parts[name];
      return part === undefined ? "\u2013" : `${part.rate.count}\u00a0of\u00a0${part.rate.of}`;
    }),
    `${repeats.count}\u00a0of\u00a0${repeats.of}`,
    markup`<span class="plays">${plays(call.rate.clips)}</span>`,
  ]);
  return table(
    "Each reader against the reference",
    ["reader", "marks", "result", "call right", "kappa", "offence", "card", "repeats alike", "clips"],
    rows,
  );
}

function confusions(found: ClassAgreement, plays: Plays): Markup {
  if (found.confusions.length === 0) return markup`<p>No action was taken for another.</p>`;
  const rows = found.confusions
    .slice(0, mostConfusions)
    .map(({ reference, said, count, clips }) => [
      reference,
      said,
      count,
      markup`<span class="plays">${plays(clips)}</span>`,
    ]);
  const more = found.confusions.length - rows.length;
  return markup`${table("Actions taken for others", ["reference", "called", "times", "clips"], rows)}${more > 0 && markup`<p>${counted(more, "rarer pair")} left out here; boutline agree --json has them all.</p>`}`;
}
/** More would not fit the two pages a class of 12 is to have. */
const mostConfusions = 10;

function sureness(found: ClassAgreement, plays: Plays): Markup {
  const rows = found.sureness.map(({ sure, rate }) => [
    `${sure}, ${sureWords[sure - 1] ?? ""}`,
    share(rate),
    markup`<span class="plays">${plays(rate.clips)}</span>`,
  ]);
  return table("Sure and right", ["how sure", "call right", "clips"], rows);
}
