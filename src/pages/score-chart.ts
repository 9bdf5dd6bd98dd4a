// The course of the score as a drawing: both scores over the phrases, with cards, reviews, stops and periods under them.
// As on the phrase line, what is the left fencer's stands above a line, what is the right fencer's below it.

import { scaleLinear, type ScaleLinear } from "d3-scale";
import { area, curveStepAfter, line } from "d3-shape";
import type { Side } from "../bout/words";
import type { Sided } from "../rules";
import { short } from "./interval-bar";
import { markup, type Content, type Markup } from "./markup";
import type { Course, Mark, Step, Told } from "./score-course";

/** Sizes in pixels. A page shows the one that fits its width, so that words keep their size. */
export interface ChartSize {
  readonly name: "wide" | "narrow";
  readonly width: number;
  /** Room for the names at the ends of the lines. */
  readonly right: number;
  readonly letters: number;
}
export const chartSizes: readonly ChartSize[] = [
  { name: "wide", width: 860, right: 150, letters: 18 },
  { name: "narrow", width: 440, right: 104, letters: 11 },
];

const left = 62;
const top = 10;
const plotHeight = 210;
const laneHeight = 52;
/** How far above or below its line a fencer's sign stands. */
const aside = 14;
const plotBottom = top + plotHeight;
const lanesTop = plotBottom + 34;
/** A phrase narrower than this many pixels can't be pointed at; the table is there for it. */
const narrowest = 2;
/** Width of a letter of the chart's small words, about. */
const letter = 6.2;

const lanes = [
  { kind: "card", words: "cards" },
  { kind: "review", words: "reviews" },
  { kind: "stop", words: "stops" },
] as const;

type Scale = ScaleLinear<number, number>;
/** The attributes that make a place on the chart play its entry. */
type Plays = (told: Told) => Content;

/** The chart in one size; `label` tells readers who don't see it what it shows. */
export function scoreChart(course: Course, names: Sided<string>, size: ChartSize, label: string): Markup {
  const { steps, marks, phrases, playable } = course;
  const plays = (told: Told) => playable && markup` data-key="${told.key}" data-entries="${told.entry}"`;
  const x = scaleLinear([0, phrases + 1], [left, size.width - size.right]);
  const highest = Math.max(1, ...steps.map(({ score }) => Math.max(...score)));
  const y = scaleLinear([0, highest], [plotBottom, top]);
  const shown = lanes.filter(({ kind }) => marks.some((mark) => mark.kind === kind));
  const bottom = shown.length === 0 ? plotBottom + 24 : lanesTop + shown.length * laneHeight;
  return markup`<svg class="chart ${size.name}" viewBox="0 0 ${size.width} ${bottom}" role="img" aria-label="${label}">${[
    grid(x, y, phrases, size),
    marks.filter(({ kind }) => kind === "period").map((mark) => period(mark, x, bottom)),
    lines(drawable(steps, x), x, y),
    endNames(course, names, x, y, size),
    shown.map(({ kind, words }, index) =>
      lane(
        marks.filter((mark) => mark.kind === kind),
        words,
        x,
        lanesTop + (index + 0.5) * laneHeight,
        plays,
      ),
    ),
    x(1) - x(0) >= narrowest && steps.map((step, index) => touchable(step, steps[index + 1], x, plays)),
  ]}</svg>`;
}

function grid(x: Scale, y: Scale, phrases: number, { width, right }: ChartSize): Markup {
  const scores = wholeTicks(y, 5);
  const numbers = wholeTicks(x, (width - left - right) / 60).filter((tick) => tick >= 1 && tick <= phrases);
  return markup`<g class="grid">${scores.map(
    (tick) => markup`<path d="M${left} ${short(y(tick))}H${width - right}"/>`,
  )}</g><g class="ticks">${scores.map(
    (tick) => markup`<text x="${left - 8}" y="${short(y(tick) + 4)}" text-anchor="end">${tick}</text>`,
  )}${numbers.map(
    (tick) =>
      markup`<path d="M${short(x(tick))} ${plotBottom}v4"/><text x="${short(x(tick))}" y="${plotBottom + 17}" text-anchor="middle">${tick}</text>`,
  )}<text x="${width - right + 10}" y="${plotBottom + 17}">phrase</text></g>`;
}

/** Ticks at whole numbers: there are no half touches. */
function wholeTicks(scale: Scale, about: number): readonly number[] {
  return scale.ticks(Math.max(2, Math.floor(about))).filter(Number.isInteger);
}

/** Of the steps that fall on the same pixel only the last: the eye can't tell the others. */
function drawable(steps: readonly Step[], x: Scale): readonly Step[] {
  const place = ({ at }: Step) => Math.floor(x(at));
  return steps.filter((step, index) => {
    const next = steps[index + 1];
    return index === 0 || next === undefined || place(next) !== place(step);
  });
}

function lines(steps: readonly Step[], x: Scale, y: Scale): Markup {
  const lead = area<Step>(
    ({ at }) => x(at),
    ({ score }) => y(score[0]),
    ({ score }) => y(score[1]),
  )
    .curve(curveStepAfter)
    .digits(1);
  const path = (side: 0 | 1) =>
    line<Step>(
      ({ at }) => x(at),
      ({ score }) => y(score[side]),
    )
      .curve(curveStepAfter)
      .digits(1)([...steps]) ?? "";
  const all = [...steps];
  return markup`<path class="lead" d="${lead(all) ?? ""}"/><path class="line left" d="${path(0)}"/><path class="line right" d="${path(1)}"/>`;
}

/** Each name at the end of its line, pushed apart where the scores are close. */
function endNames(
  { steps, phrases }: Course,
  names: Sided<string>,
  x: Scale,
  y: Scale,
  size: ChartSize,
): Markup {
  const [left, right] = steps.at(-1)?.score ?? [0, 0];
  const apart = 18;
  const middle = (y(left) + y(right)) / 2;
  const close = Math.abs(y(left) - y(right)) < apart;
  const leftIsAbove = left >= right;
  const name = (side: Side, score: number, above: boolean) => {
    const place = close ? middle + (above ? -apart / 2 : apart / 2) : y(score);
    return markup`<text x="${short(x(phrases + 1) + 8)}" y="${short(place + 4)}"><tspan class="score">${score}</tspan> ${cut(names[side], size.letters)}</text>`;
  };
  return markup`<g class="names">${name("left", left, leftIsAbove)}${name("right", right, !leftIsAbove)}</g>`;
}

function period({ at, word }: Mark, x: Scale, bottom: number): Markup {
  return markup`<g class="period"><path d="M${short(x(at))} ${top}V${bottom}"/><text x="${short(x(at) + 4)}" y="${top + 9}">${word}</text></g>`;
}

function lane(marks: readonly Mark[], words: string, x: Scale, middle: number, plays: Plays): Markup {
  const [from, to] = x.range();
  return markup`<g class="lane"><text class="name" x="${left - 8}" y="${short(middle + 4)}" text-anchor="end">${words}</text><path class="rule" d="M${from ?? 0} ${short(middle)}H${to ?? 0}"/>${marks.map(
    (mark, index) => {
      const at = x(mark.at);
      const next = marks.find(({ side }, other) => other > index && side === mark.side);
      // A word that would run into the next sign beside it is left to its title and to the table.
      const free = next === undefined || at + 8 + mark.word.length * letter < x(next.at) - 6;
      const shift = mark.side === "left" ? -aside : mark.side === "right" ? aside : 0;
      const word =
        mark.word !== "" &&
        free &&
        markup`<text x="${short(at + 8)}" y="${short(middle + shift + 4)}">${mark.word}</text>`;
      return markup`<g${plays(mark)}><title>${mark.title()}</title>${sign(mark, at, middle, shift)}${word}</g>`;
    },
  )}</g>`;
}

/** A card is a small upright card, a review a square, a stop a stroke; both sides at once get one above and one below. */
function sign({ kind, side }: Mark, at: number, middle: number, shift: number): Markup {
  const places = side === "both" ? [-aside, aside] : [shift];
  return markup`${places.map((place) => {
    const centre = middle + place;
    switch (kind) {
      case "card":
        return markup`<rect class="sign" x="${short(at - 3.5)}" y="${short(centre - 5.5)}" width="7" height="11" rx="1"/>`;
      case "review":
        return markup`<rect class="sign" x="${short(at - 4.5)}" y="${short(centre - 4.5)}" width="9" height="9"/>`;
      default:
        return markup`<path class="stroke" d="M${short(at)} ${short(centre - 5)}v10"/><path class="catch" d="M${short(at)} ${short(centre - 9)}v18"/>`;
    }
  })}`;
}

/** A pointer on the stretch after a touch shows what it was, and plays it. */
function touchable({ at, by }: Step, next: Step | undefined, x: Scale, plays: Plays): Markup | undefined {
  if (by === null || next === undefined) return undefined;
  const from = x(at - 0.5);
  return markup`<rect class="catch"${plays(by)} x="${short(from)}" y="${top}" width="${short(Math.max(1, Math.min(x(1) - x(0), x(next.at - 0.5) - from)))}" height="${plotHeight}"><title>${by.title()}</title></rect>`;
}

function cut(name: string, letters: number): string {
  const characters = Array.from(new Intl.Segmenter().segment(name), ({ segment }) => segment);
  return characters.length <= letters ? name : `${characters.slice(0, letters - 1).join("")}…`;
}
