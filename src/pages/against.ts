// Two bout files beside each other as a page: what differs between two bouts, or how far two taggers of one bout agree.
// Each figure plays its phrases in the viewer of the bout it is of.

import { caution, type Against, type Agreement, type Difference, type Entries } from "../figures";
import { namesOf } from "../figures/bout-tests";
import type { Study } from "../rules";
import { comparisonsTable, type Plays } from "./comparisons-table";
import { formatDate } from "./dates";
import { player } from "./evidence";
import { markup, type Content, type Markup } from "./markup";
import { counted, decimal, percent } from "./numbers";

export interface BoutBeside {
  /** The file's name. */
  readonly file: string;
  readonly study: Study;
}
type Two = readonly [first: BoutBeside, second: BoutBeside];

/** The page's content as HTML, for a panel. Every button of class `evidence` carries `data-of`, the bout it is of. */
export function againstPage(two: Two, against: Against): string {
  const [first, second] = two;
  const play = {
    first: player(first.study.bout, "panel", "first"),
    second: player(second.study.bout, "panel", "second"),
  };
  const plays: Plays = (part) => play[part];
  const title = against.relation === "same bout" ? "One bout, tagged twice" : "Two bouts compared";
  return markup`<article class="sheet against">
<header><p class="kind">Comparison</p><h1>${title}</h1>
<p class="details">${capital(against.why)}.</p>
${otherWeapon(two) && markup`<p class="key">The bouts are of different weapons: openings and both lamps do not mean the same in them.</p>`}
<dl class="beside">${two.map((one, index) => boutLines(one, index))}</dl></header>
${
  against.relation === "same bout"
    ? agreementSections(against.agreement, plays)
    : section(
        "What differs",
        markup`<p>${inBoth(against.compared.fencers)}</p>${comparisonsTable(against.compared.comparisons, plays)}`,
      )
}
<footer class="cautions"><h2>Before you use this</h2><ul>${caution.map((one) => markup`<li>${one}</li>`)}</ul></footer>
</article>`.text;
}

/** The page where two files can't be compared, with the reasons. */
export function apartPage(reasons: readonly string[]): string {
  return markup`<article class="sheet"><h1>These can't be compared</h1>
<ul class="findings">${reasons.map((reason) => markup`<li>${reason}</li>`)}</ul>
<p>Put this right in the text and the comparison comes back.</p></article>`.text;
}

function otherWeapon([first, second]: Two): boolean {
  return first.study.bout.about.weapon !== second.study.bout.about.weapon;
}

function boutLines({ file, study: { ledger } }: BoutBeside, index: number): Markup {
  const { about } = ledger.bout;
  const names = namesOf(ledger);
  const [left, right] = ledger.end.score;
  const lines = [about.event, about.round, formatDate(about.date)].filter((part) => part !== undefined);
  return markup`<div><dt>${index === 0 ? "first bout" : "second bout"}</dt><dd class="name">${names.left} ${left} : ${right} ${names.right}</dd><dd>${[...lines, file].join(" \u00b7 ")}</dd></div>`;
}

function inBoth(
  fencers: readonly { readonly name: string; readonly first: string; readonly second: string }[],
): string {
  if (fencers.length === 0)
    return "No fencer is in both, by id or name, so only the bouts as wholes are compared.";
  const both = fencers.map(({ name, first, second }) =>
    first === second ? `${name} (${first})` : `${name} (${first}, then ${second})`,
  );
  return `In both: ${both.join(" and ")}.`;
}

function section(title: string, content: Content): Markup {
  return markup`<section class="part"><h2>${title}</h2>${content}</section>`;
}

function agreementSections(found: Agreement, plays: Plays): Markup {
  const { matched, unmatched, taggers, again } = found;
  const who = [taggers.first, taggers.second].map((by) => by ?? "not said");
  const only = (part: "first" | "second", entries: Entries) =>
    entries.length === 0
      ? "none"
      : plays(part)({ key: `only.${part}`, title: `only in the ${part} file`, entries }, entries.length);
  return markup`${section(
    "How far they agree",
    markup`<p>Tagged by ${who[0]} and ${who[1]}${again && " (one person, twice)"}. ${counted(matched.length, "phrase")} matched by their times; only in the first file ${only("first", unmatched.first)}, only in the second ${only("second", unmatched.second)}.</p>
<p>Second less first, median: start ${seconds(found.start.median)}, halt ${seconds(found.halt.median)}.</p>
<div class="columns"><table class="grid-table"><caption class="unseen">Agreement on award, opener and family of the scoring action</caption><thead><tr><th scope="col">judged</th><th scope="col">among</th><th scope="col">alike</th><th scope="col">kappa and limits</th></tr></thead><tbody>${found.judgements.map(
      ({ what, among, kappa }) =>
        markup`<tr><th scope="row">${what}</th><td>${among}</td><td>${kappa.agreed} of ${kappa.of}${kappa.of > 0 && `, ${percent(kappa.agreed / kappa.of)}`}</td><td>${kappaWords(kappa)}</td></tr>`,
    )}</tbody></table></div>
<p class="key">Kappa is the agreement beyond what the habits of both would give by chance: 1 is full agreement, 0 none beyond chance.</p>`,
  )}
${section("Where they differ", differences(found.differences, plays))}`;
}

function differences(list: readonly Difference[], plays: Plays): Markup {
  if (list.length === 0) return markup`<p>Nowhere, in what is judged here.</p>`;
  const says = (part: "first" | "second", one: Difference, index: number) =>
    plays(part)(
      {
        key: `differs.${index}.${part}`,
        title: `${one.what}, ${part} file: ${one[part].says}`,
        entries: [one[part].entry],
      },
      one[part].says,
    );
  return markup`<div class="columns"><table class="grid-table"><caption class="unseen">Phrases judged differently</caption><thead><tr><th scope="col">judged</th><th scope="col">first file</th><th scope="col">second file</th></tr></thead><tbody>${list.map(
    (one, index) =>
      markup`<tr><th scope="row">${one.what}</th><td>${says("first", one, index)}</td><td>${says("second", one, index)}</td></tr>`,
  )}</tbody></table></div>`;
}

function kappaWords({ value, low, high }: Agreement["judgements"][number]["kappa"]): string {
  if (value === null) return "can't be said";
  const limits = low === null || high === null ? "" : ` (${decimal(low, 2)} to ${decimal(high, 2)})`;
  return `${decimal(value, 2)}${limits}`;
}

function seconds(value: number | null): string {
  return value === null ? "none yet" : `${decimal(value, 3)}\u00a0s`;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
