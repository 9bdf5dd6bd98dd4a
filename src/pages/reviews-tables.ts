// Reviews and cards: who asked, what came of it, what was contested, what it cost; officials' own reviews apart.

import { sides } from "../bout/words";
import type {
  AppealFigures,
  CardLine,
  ContestedRow,
  Figures,
  ReviewFigures,
  ReviewLine,
  StudySheet,
} from "../figures";
import type { Score } from "../rules";
import { markup, type Content, type Markup } from "./markup";
import { countRow, group, mirroredTable, row } from "./mirrored";
import { counted, decimal } from "./numbers";
import { rateCell } from "./rate-cell";
import { noneYet, type Reader } from "./reader";
import { secondsWords } from "./seconds";

export function reviewsSection({ sheet, evidence }: StudySheet, figures: Figures, reader: Reader): Markup {
  const { reviews, flow } = figures;
  return markup`${[
    appealsTable(sheet.sides, evidence, reviews.sides, reader),
    officials(reviews.officials, reader),
    markup`<div class="pair ledgers">${reviewsTable(reviews.lines, reader)}${cardsTable(flow.cards, reader)}</div>`,
    contested(figures.reviews.byLamps, figures.reviews.byAction, reader),
    appealsOver(figures, reader),
  ]}`;
}

function appealsTable(
  ends: StudySheet["sheet"]["sides"],
  evidence: StudySheet["evidence"],
  figures: Figures["reviews"]["sides"],
  reader: Reader,
): Markup | undefined {
  const { names, play } = reader;
  const asked = sides.some((side) => figures[side].asked.length > 0);
  const holds = sides.some((side) => ends[side].appeals.left !== null);
  const cards = sides.some((side) => evidence.sides[side].cards.size > 0);
  if (!asked && !holds && !cards) return undefined;
  const appeals = (asked || holds) && [
    countRow(
      reader,
      "appeals.asked",
      "asked for",
      (side) => figures[side].asked.length,
      (side) => figures[side].asked,
    ),
    asked &&
      row("granted", (side) =>
        rate(figures[side].success, "granted", `${side}.appeals.success`, names[side], reader),
      ),
    ...(asked ? situations(figures, reader) : []),
    asked &&
      row("touches swung", (side) =>
        figures[side].asked.length === 0 ? "\u2013" : signed(figures[side].swung),
      ),
    asked &&
      row("time taken", (side) =>
        secondsWords(figures[side].seconds, play, `${side}.appeals.seconds`, "reviews"),
      ),
    holds &&
      countRow(reader, "appeals.left", "left at the end", (side) => ends[side].appeals.left ?? "unknown"),
    holds &&
      row("both lamps lost, not appealed", (side) => {
        const { notAppealed, notAppealedWithAppeal } = figures[side];
        const all = play(
          {
            key: `${side}.notAppealed`,
            title: `both lamps given to the other, no review, ${names[side]}`,
            entries: notAppealed,
          },
          notAppealed.length,
        );
        return notAppealedWithAppeal === null || notAppealed.length === 0
          ? all
          : markup`${all}<span class="note">, ${notAppealedWithAppeal.length} with an appeal left</span>`;
      }),
  ];
  return mirroredTable(names, "Video appeals of each fencer", [
    appeals !== false &&
      group("Video appeals", appeals, asked ? "those without a picture left out of the rate" : undefined),
  ]);
}

function situations(figures: Figures["reviews"]["sides"], reader: Reader): readonly Content[] {
  return (["ahead", "level", "behind"] as const).map(
    (situation) =>
      sides.some((side) => figures[side].bySituation[situation].of > 0) &&
      row(
        `granted when ${situation}`,
        (side) =>
          rate(
            figures[side].bySituation[situation],
            `granted when ${situation}`,
            `${side}.appeals.${situation}`,
            reader.names[side],
            reader,
          ),
        true,
      ),
  );
}

function rate(
  found: AppealFigures["success"],
  words: string,
  key: string,
  name: string,
  { play }: Reader,
): Markup {
  return found.of === 0
    ? markup`<span class="none">none with a picture</span>`
    : rateCell(play, found, { key, title: `appeals ${words}, ${name}` });
}

function officials(
  { asked, granted, decided, kept, noPicture, seconds }: ReviewFigures,
  { play }: Reader,
): Markup {
  if (asked.length === 0) return markup`<p class="line">Officials asked for no review.</p>`;
  const part = (entries: readonly number[], words: string, key: string) =>
    entries.length > 0 &&
    markup`${play({ key: `officials.${key}`, title: `reviews by officials, ${words}`, entries }, entries.length)} ${words}`;
  const parts = [
    part(granted, "changed", "changed"),
    part(kept, "kept", "kept"),
    part(decided, "decided what had not been called", "decided"),
    part(noPicture, "without a picture", "noPicture"),
  ].filter((one) => one !== false);
  return markup`<p class="line">Officials asked for ${play({ key: "officials.asked", title: "reviews by officials", entries: asked }, asked.length)} ${
    asked.length === 1 ? "review" : "reviews"
  }: ${parts.map((one, index) => markup`${index > 0 && ", "}${one}`)}; time taken ${secondsWords(seconds, play, "officials.seconds", "reviews by officials")}.</p>`;
}

function reviewsTable(lines: readonly ReviewLine[], reader: Reader): Markup {
  return markup`<table class="grid-table ledger"><caption>Every review</caption><thead><tr><th scope="col">asked by</th><th scope="col">call</th><th scope="col">about</th><th scope="col" class="number">score</th></tr></thead><tbody>${
    lines.length === 0 && markup`<tr><td colspan="4">${noneYet}</td></tr>`
  }${lines.map((line) => reviewLine(line, reader))}</tbody></table>`;
}

function reviewLine(line: ReviewLine, reader: Reader): Markup {
  const { entry, by, result, stood, stands, score, situation, seconds, swung, lamps, contested } = line;
  const [from, to] = [stood, stands].map((one) =>
    one === null ? "not called" : one === "none" ? "no touch" : `touch ${one}`,
  );
  const call = stood === stands ? `${result}: ${to ?? ""}` : `${result}: ${from ?? ""} to ${to ?? ""}`;
  const notes = [
    situation === null ? undefined : `asked when ${situation}`,
    swung === 0 || by === "referee" || by === "video-referee" || by === "level score"
      ? undefined
      : `swung ${signed(swung)}`,
    seconds === null ? undefined : `${decimal(seconds, 1)}\u00a0s`,
  ].filter((note) => note !== undefined);
  const who = by === "left" || by === "right" ? reader.names[by] : by;
  return markup`<tr><th scope="row">${reader.play(
    { key: `review.${reader.keys(entry)}`, title: `review asked by ${who}`, entries: [entry] },
    who,
  )}</th><td>${call}</td><td>${contested}, ${lamps}${notes.length > 0 && markup` <span class="note">${notes.join(", ")}</span>`}</td><td class="number">${scoreWords(score)}</td></tr>`;
}

function cardsTable(cards: readonly CardLine[], reader: Reader): Markup {
  return markup`<table class="grid-table ledger"><caption>Every card</caption><thead><tr><th scope="col">to</th><th scope="col">card</th><th scope="col">for</th><th scope="col">cost</th><th scope="col" class="number">score</th></tr></thead><tbody>${
    cards.length === 0 && markup`<tr><td colspan="5">${noneYet}</td></tr>`
  }${cards.map((line) => cardLine(line, reader))}</tbody></table>`;
}

function cardLine({ entry, to, card, for: offence, cost, score }: CardLine, reader: Reader): Markup {
  const who = to === "both" ? "both" : reader.names[to];
  const touches = sides.filter((side) => cost[side] > 0);
  const price =
    touches.length === 0
      ? "no touch"
      : touches.length === 2
        ? "a touch each"
        : `touch ${reader.names[touches[0] ?? "left"]}`;
  return markup`<tr><th scope="row">${reader.play(
    { key: `card.${reader.keys(entry)}`, title: `${card} card, ${who}`, entries: [entry] },
    who,
  )}</th><td>${card}</td><td>${offence ?? "not told"}</td><td>${price}</td><td class="number">${scoreWords(score)}</td></tr>`;
}

function contested(
  byLamps: readonly ContestedRow[],
  byAction: readonly ContestedRow[],
  { play }: Reader,
): Markup | undefined {
  if (byLamps.length + byAction.length === 0) return undefined;
  const rows = (of: readonly ContestedRow[], key: string) =>
    of.map(
      ({ what, asked, changed }) =>
        markup`<tr><th scope="row">${what}</th><td>${counted(asked.length, "appeal")}</td><td>${
          changed.of === 0
            ? markup`<span class="none">none with a picture</span>`
            : rateCell(play, changed, {
                key: `contested.${key}.${what}`,
                title: `appeals about ${what}: changed`,
              })
        }</td></tr>`,
    );
  return markup`<table class="grid-table contested"><caption>Fencers' appeals by what was contested: changed</caption><thead><tr><th scope="col">lamps, then the action that had the touch</th><th scope="col">asked</th><th scope="col">changed</th></tr></thead><tbody>${rows(byLamps, "lamps")}</tbody><tbody>${rows(byAction, "action")}</tbody></table>`;
}

/** Appeals left wherever their number changed. */
function appealsOver({ reviews: { appealsLeft } }: Figures, { ledger, names }: Reader): Markup | undefined {
  if (appealsLeft.length < 2) return undefined;
  const told = appealsLeft.map(({ entry, left }) => {
    const at = entry === null ? undefined : ledger.byEntry[entry];
    const when = at === undefined ? "at the start" : `at ${scoreWords(at.state.score)}`;
    return `${left.left} and ${left.right} ${when}`;
  });
  return markup`<p class="line">Appeals left, ${names.left} and ${names.right}: ${told.join("; ")}.</p>`;
}

function scoreWords([left, right]: Score): string {
  return `${left}:${right}`;
}

function signed(count: number): string {
  return count > 0 ? `+${count}` : decimal(count, 0);
}
