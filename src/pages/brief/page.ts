// The brief on a fencer: many bouts' figures as a page to read the evening before, with room for three things to do.

import {
  countOf,
  type AskedFor,
  type Brief,
  type CardsOfColour,
  type Person,
  type ShownPlan,
} from "../../figures/brief";
import { formatDate } from "../dates";
import { markup, type Content, type Markup } from "../markup";
import { counted } from "../numbers";
import type { Medium } from "../reader";
import { briefPlayer, type BriefPlay } from "./evidence";
import { planOnPaper, shortName } from "./plan";
import { comparisonsTable, pooledCell, shareTable, touchLine, touchTable } from "./tables";

/** The panel's two pieces, above and below the plan, which is written in between. `unread`: files left out. */
export function briefPieces(
  brief: Brief,
  unread: readonly Unread[],
): { readonly top: string; readonly rest: string } {
  const play = briefPlayer(brief, "panel");
  const fold = (id: string, title: string, content: Content) =>
    markup`<section class="part"><details class="fold" data-key="fold.${id}"><summary><h2>${title}</h2></summary>
${content}</details></section>`;
  return {
    top: markup`<article class="sheet brief">${head(brief, play, "panel")}
${part("in-short", "In short", sentences(brief, play))}</article>`.text,
    rest: markup`<article class="sheet brief">
${part("opened", sectionTitles.opened, wonAndLost(brief, play))}
${details(brief, play).map(([id, content]) => fold(id, sectionTitles[id], content))}
${fold("bouts", sectionTitles.bouts, boutList(brief, unread))}
${cautions(brief)}</article>`.text,
  };
}

/** The brief as a page on its own. */
export function briefPage(brief: Brief, plan: ShownPlan): string {
  const play = briefPlayer(brief, "file");
  return markup`<article class="sheet brief">
${head(brief, play, "file")}
${part("in-short", "In short", sentences(brief, play))}
${part("opened", sectionTitles.opened, wonAndLost(brief, play))}
${part("plan", "Plan: three things to do", planOnPaper(brief, plan, play))}
${details(brief, play).map(([id, content]) => part(id, sectionTitles[id], content))}
${part("bouts", sectionTitles.bouts, boutList(brief, []))}
${cautions(brief)}
</article>`.text;
}

/** A file that was not read, and why in words that follow its name. */
export interface Unread {
  readonly file: string;
  readonly message: string;
}

const sectionTitles = {
  opened: "How touches are won and lost",
  actions: "With which actions, and where",
  opponents: "Against whom",
  moments: "Near the end, ahead and behind",
  reviews: "Reviews and cards",
  time: "Changes over time",
  comparisons: "More than chance?",
  bouts: "The bouts",
} as const;

function details(brief: Brief, play: BriefPlay): readonly (readonly [keyof typeof sectionTitles, Markup])[] {
  return [
    ["actions", actions(brief, play)],
    ["opponents", against(brief, play)],
    ["moments", moments(brief, play)],
    ["reviews", reviews(brief, play)],
    ["time", overTime(brief, play)],
    ["comparisons", comparisonsTable(brief, play)],
  ];
}

function part(id: string, title: string, content: Content): Markup {
  return markup`<section class="part" id="${id}"><h2>${title}</h2>${content}</section>`;
}

function cautions(brief: Brief): Markup {
  return markup`<footer class="cautions"><h2>Before you use this</h2><ul>${brief.cautions.map((one) => markup`<li>${one}</li>`)}<li>A brief tells of the bouts that were filmed and tagged, not of all that a fencer does.</li></ul></footer>`;
}

function head(
  { fencer, against, bouts, total, penaltyTouches }: Brief,
  play: BriefPlay,
  medium: Medium,
): Markup {
  const won = bouts.filter((bout) => bout.won === true).length;
  const lost = bouts.filter((bout) => bout.won === false).length;
  const title = `Brief on ${fencer.name}${against === null ? "" : ` against ${against.name}`}`;
  return markup`<header><p class="kind">Brief</p><h1>${title}</h1>
<p class="details">${about(fencer)}</p>
<p class="line">${counted(bouts.length, "bout")}${span(bouts)}: ${won} won, ${lost} lost, ${bouts.length - won - lost} undecided. ${play({ key: "all", title: "all phrases", evidence: total.evidence }, total.phrases)} phrases; ${play({ key: "all.for", title: "touches for", evidence: total.for.evidence }, total.for.count)} touches for and ${play({ key: "all.against", title: "touches against", evidence: total.against.evidence }, total.against.count)} against in them; ${countOf(penaltyTouches.for)} for and ${countOf(penaltyTouches.against)} against by cards.</p>
<p class="key">Limits are 95 %, and as wide as the bouts differ from one another; a share of fewer than five phrases is told as a count.</p>${
    medium === "panel" &&
    markup`<p class="hint">Every underlined number plays its phrases, one bout after another. <button type="button" class="meaning" data-key="save" data-save="">Save as a file</button></p>`
  }</header>`;
}

function about({ id, names, clubs, hands, categories }: Person): string {
  const parts = [`id ${id}`, ...clubs];
  if (names.length > 1) parts.push(`also written ${names.slice(1).join(", ")}`);
  if (hands.length > 0) parts.push(hands.map((hand) => `${hand}-handed`).join(" and "));
  if (categories.length > 0) parts.push(`category ${categories.join(" and ")} (health data)`);
  return parts.join(" \u00b7 ");
}

function span(bouts: Brief["bouts"]): string {
  const dates = bouts.map(({ date }) => date).filter((date) => date !== null);
  const [first, last] = [dates[0], dates.at(-1)];
  if (first === undefined || last === undefined) return "";
  return first === last
    ? `, ${formatDate(first) ?? first}`
    : `, ${formatDate(first) ?? first} to ${formatDate(last) ?? last}`;
}

function sentences({ sentences: all, comparisons }: Brief, play: BriefPlay): Markup {
  return markup`<ol class="sentences">${all.map(
    ({ key, says, seen, evidence }) =>
      markup`<li><p>${says}.</p>${seen !== null && markup`<p class="key">${play({ key: `sentence.${key}`, title: says, evidence, plain: true }, seen)}</p>`}</li>`,
  )}</ol><p class="key">${
    all.some(({ adjusted }) => adjusted !== null)
      ? `Each sentence passed its test among the ${counted(comparisons.tried, "comparison")} tried; they are all under “More than chance?”.`
      : `All comparisons tried are under “More than chance?”.`
  }</p>`;
}

function wonAndLost({ opened, bothLamps, total }: Brief, play: BriefPlay): Markup {
  const lamps = bothLamps.phrases > 0 ? [bothLamps] : [];
  return touchTable(play, "Who committed first", "opened by", [
    ...opened,
    ...lamps,
    { ...total, key: "total" },
  ]);
}

function actions({ families, touchesBy, targets }: Brief, play: BriefPlay): Markup {
  return markup`<div class="pair">${shareTable(play, "by.for", "Touches for, by action", touchesBy.for)}${shareTable(play, "by.against", "Touches against, by action", touchesBy.against)}</div>
${touchTable(play, "Phrases with an own action of the family", "family", families.own)}
${touchTable(play, "Phrases with an opponent's action of the family", "family", families.opponents)}
<div class="pair">${shareTable(play, "target.for", "Touches for, by target", targets.for)}${shareTable(play, "target.against", "Touches against, by target", targets.against)}</div>`;
}

function against(brief: Brief, play: BriefPlay): Markup {
  const { hands, weapons, opponents, common } = brief;
  return markup`${touchTable(play, "By the opponent's hand", "opponents", hands)}
<p class="key">Left- and right-handed opponents differ in more than the hand, so the two are shown and not compared.</p>
${touchTable(play, "By weapon", "weapon", weapons)}
${touchTable(play, "By opponent", "opponent", opponents)}
${brief.against !== null && commonTable(common, brief, play)}`;
}

function commonTable(common: Brief["common"], { fencer, against: other }: Brief, play: BriefPlay): Markup {
  if (common.length === 0) return markup`<p>Common opponents: none in these bouts.</p>`;
  const title = "Common opponents";
  return markup`<div class="wide-table" tabindex="0" role="region" aria-label="${title}"><table class="grid-table"><caption>${title}</caption><thead><tr><th scope="col">fencer and opponent</th><th scope="col" class="number">bouts</th><th scope="col" class="number">phrases</th><th scope="col">touch for</th><th scope="col">touch against</th><th scope="col" class="number">bouts differ by</th></tr></thead><tbody>${common.map(
    (one) =>
      markup`${touchLine(play, { ...one.fencer, key: `common.${one.key}.one`, label: `${fencer.name}, ${one.name}` }, title)}${touchLine(play, { ...one.against, key: `common.${one.key}.other`, label: `${other?.name ?? ""}, ${one.name}` }, title)}`,
  )}</tbody></table></div>`;
}

function moments({ moments: rows }: Brief, play: BriefPlay): Markup {
  return markup`${touchTable(play, "Moments of the bout", "moment", rows)}
<p class="key">A moment is that of the command to fence. The last minute is counted in fencing time as tagged.</p>`;
}

function reviews({ reviews: { own, opponents, notAsked }, cards, fencer }: Brief, play: BriefPlay): Markup {
  const row = (who: string, key: string, { asked, granted, situations }: AskedFor) => [
    markup`<tr><th scope="row">${who}</th><td class="number">${play({ key: `reviews.${key}`, title: `reviews asked for by ${who}`, evidence: asked }, countOf(asked))}</td><td>${pooledCell(play, granted, `reviews.${key}.granted`, `granted, ${who}`)}</td></tr>`,
    ...situations
      .filter(({ asked: { count } }) => count > 0)
      .map(
        ({ situation, asked: share, granted: success }) =>
          markup`<tr><th scope="row">${who}, ${situation === "level" ? "level" : `when ${situation}`}</th><td class="number">${play({ key: `reviews.${key}.${situation}`, title: `reviews asked for by ${who}, ${situation}`, evidence: share.evidence }, share.count)}</td><td>${pooledCell(play, success, `reviews.${key}.${situation}.granted`, `granted, ${who}, ${situation}`)}</td></tr>`,
      ),
  ];
  return markup`<table class="grid-table counts"><caption>Reviews</caption><thead><tr><th scope="col">asked for by</th><th scope="col" class="number">asked</th><th scope="col">granted, of those with a picture</th></tr></thead><tbody>${row(fencer.name, "own", own)}${row("opponents", "opponents", opponents)}</tbody></table>
<p class="key">Both-lamp calls that went against ${fencer.name} with an appeal left and none asked for: ${play({ key: "reviews.not-asked", title: "both lamps, against, not asked for", evidence: notAsked }, countOf(notAsked))}.</p>
<p class="line">Cards to ${fencer.name}: ${cardList(cards.own, "own", play)}. To opponents: ${cardList(cards.opponents, "opponents", play)}.</p>`;
}

function cardList(cards: readonly CardsOfColour[], whose: string, play: BriefPlay): Content {
  if (cards.length === 0) return "none";
  return cards.map(
    ({ card, count, evidence }, at) =>
      markup`${at > 0 && ", "}${play({ key: `cards.${whose}.${card}`, title: `${card} cards, ${whose}`, evidence }, count)} ${card}`,
  );
}

function overTime({ trend: { years, undated, slope } }: Brief, play: BriefPlay): Markup {
  const rows = years.map(({ year, bouts, share }) => ({
    label: `${year}, ${counted(bouts, "bout")}`,
    share,
  }));
  const points = (share: number) => `${share > 0 ? "+" : "\u2212"}${Math.abs(Math.round(share * 100))}`;
  return markup`${shareTable(play, "year", "Share of the touches, by year", rows)}
<p class="key">${
    slope === null
      ? "Too few meetings with the same opponents to tell a change of the fencer from a change of opponents."
      : `Against the same opponents the share changes by ${points(slope.value)} points a year (${points(slope.low)} to ${points(slope.high)}).`
  }${undated > 0 && ` ${counted(undated, "bout")} without a date left out.`}</p>`;
}

function boutList({ bouts, leftOut }: Brief, unread: readonly Unread[]): Markup {
  const notCounted = [
    ...leftOut.map(({ file, why }) => `${shortName(file)}: ${why}`),
    ...unread.map(({ file, message }) => `${shortName(file)}: ${message}`),
  ];
  return markup`<div class="wide-table" tabindex="0" role="region" aria-label="The bouts"><table class="grid-table"><caption class="unseen">The bouts of this brief</caption><thead><tr><th scope="col">date</th><th scope="col">opponent</th><th scope="col">event</th><th scope="col">weapon</th><th scope="col" class="number">score</th><th scope="col">file</th></tr></thead><tbody>${bouts.map(
    ({ date, opponent, event, round, weapon, score, won, file }) =>
      markup`<tr><td>${formatDate(date ?? undefined) ?? "no date"}</td><td>${opponent.name}</td><td>${[event, round].filter((one) => one !== null).join(", ")}</td><td>${weapon === "epee" ? "épée" : weapon}</td><td class="number">${score.own} to ${score.opponent}${won === null ? "" : won ? ", won" : ", lost"}</td><td>${shortName(file)}</td></tr>`,
  )}</tbody></table></div>${notCounted.length > 0 && markup`<p class="key">Not counted: ${notCounted.join("; ")}.</p>`}`;
}
