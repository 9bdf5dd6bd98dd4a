// The piste from above, to scale: where both platforms went, one strip a stretch between re-centres, places numbered.

import type { Milliseconds } from "../bout/time";
import type { Track, TrackPlace } from "../figures";
import type { FloorPoint } from "../piste";
import { spoken } from "./drift-words";
import { short } from "./interval-bar";
import { markup, type Markup } from "./markup";
import { counted } from "./numbers";

/** Strips shown; a longer bout's others are in the table. */
export const mostStrips = 12;
const margin = 10;
/** Room above the strips for their heading, and in each for its own line of words. */
const heading = 22;
const words = 18;
/** Numbers nearer to one another than this, in pixels, can't be read. */
const apart = 13;

/** `label` tells readers who don't see it what it shows. */
export function driftPlan(
  tracks: readonly Track[],
  { width, name }: { readonly width: number; readonly name: string },
  label: string,
): Markup {
  const strips = tracks.filter(({ places }) => places.length > 1).slice(0, mostStrips);
  const points = strips.flatMap(({ places }) => places.flatMap(({ left, right }) => [...left, ...right]));
  const alongs = points.map(([x]) => x);
  const [from, to] = [Math.min(...alongs), Math.max(...alongs)];
  const scale = (width - 2 * margin) / Math.max(0.5, to - from);
  const x = (along: number): number => margin + (along - from) * scale;
  let y = heading;
  const drawn = strips.map(({ places, end }, index) => {
    const across = places.flatMap(({ left, right }) => [...left, ...right].map((point) => point[1]));
    const far = Math.max(...across);
    const height = words + (far - Math.min(...across)) * scale + 34;
    const top = y;
    y += height;
    return strip({
      places,
      x,
      y: (value) => top + words + 14 + (far - value) * scale,
      top,
      width,
      words: `stretch ${index + 1}: ${heldWords(places)}${endWords(end)}`,
    });
  });
  const centre =
    from < 0 &&
    to > 0 &&
    markup`<path stroke-dasharray="2 4" stroke-opacity="0.6" d="M${short(x(0))} ${heading}V${short(y)}"/>`;
  return markup`<svg class="chart plan ${name}" viewBox="0 0 ${width} ${short(y + 24)}" role="img" aria-label="${label}"><g class="ticks"><text x="${margin}" y="13">\u2190 left end</text><text x="${width - margin}" y="13" text-anchor="end">right end \u2192</text></g>${centre}${drawn}${bar(width, y + 8, scale)}</svg>`;
}

function heldWords(places: readonly TrackPlace[]): string {
  const [first] = places;
  const last = places.at(-1);
  if (first === undefined || last === undefined) return "";
  const time = (at: number) => spoken(at as Milliseconds);
  return `${counted(last.phrases - first.phrases, "phrase")}, ${time(first.at)} to ${time(last.at)}`;
}

function endWords(end: Track["end"]): string {
  return end === "re-centre"
    ? ", then re-centred"
    : end === "distance"
      ? ", then the distance was set"
      : end === "fit"
        ? ", then a new fit"
        : "";
}

interface Strip {
  readonly places: readonly TrackPlace[];
  readonly x: (along: number) => number;
  readonly y: (across: number) => number;
  readonly top: number;
  readonly width: number;
  readonly words: string;
}

function strip({ places, x, y, top, width, words: told }: Strip): Markup {
  const side = (which: "left" | "right"): Markup => {
    const centres = places.map((place): FloorPoint => {
      const [inner, outer] = place[which];
      return [(inner[0] + outer[0]) / 2, (inner[1] + outer[1]) / 2];
    });
    const pixels = centres.map(([along, across]) => [x(along), y(across)] as const);
    const path = pixels.map(([px, py]) => `${short(px)} ${short(py)}`).join("L");
    return markup`${edge(places[0]?.[which], 0.35)}${edge(places.at(-1)?.[which], 1)}<path stroke-width="1.25" d="M${path}"/>${pixels.map(
      ([px, py], index) =>
        markup`<circle class="${index === 0 ? "sign" : "dot"}" cx="${short(px)}" cy="${short(py)}" r="${index === 0 || index === pixels.length - 1 ? 3 : 2}"/>`,
    )}${numbered(pixels).map(
      ({ number, at }) =>
        markup`<text x="${short(at[0])}" y="${short(at[1] - 7)}" text-anchor="middle">${number}</text>`,
    )}`;
  };
  const edge = (points: readonly [FloorPoint, FloorPoint] | undefined, opacity: number): Markup | undefined =>
    points &&
    markup`<path stroke-width="3" stroke-opacity="${opacity}" d="M${short(x(points[0][0]))} ${short(y(points[0][1]))}L${short(x(points[1][0]))} ${short(y(points[1][1]))}"/>`;
  return markup`<g class="lane"><path class="rule" d="M0 ${short(top)}H${width}"/><text x="${margin}" y="${short(top + 13)}">${told}</text><g>${side("left")}${side("right")}<title>places 1 to ${places.length}</title></g></g>`;
}

/** The first and the last number always, those between where there is room. */
function numbered(
  pixels: readonly (readonly [number, number])[],
): readonly { readonly number: number; readonly at: readonly [number, number] }[] {
  const last = pixels.at(-1);
  if (last === undefined) return [];
  const shown: { number: number; at: readonly [number, number] }[] = [];
  pixels.slice(0, -1).forEach((at, index) => {
    const free = [last, ...shown.map((one) => one.at)].every(
      (other) => Math.hypot(other[0] - at[0], other[1] - at[1]) >= apart,
    );
    if (free) shown.push({ number: index + 1, at });
  });
  return [...shown, { number: pixels.length, at: last }];
}

/** A length on the floor to measure the drawing by. */
function bar(width: number, y: number, scale: number): Markup {
  const long = scale * 0.1;
  const end = width - margin;
  return markup`<g class="ticks"><path class="stroke" d="M${short(end - long)} ${short(y - 3)}v6m0 -3H${short(end)}m0 -3v6"/><text x="${short(end - long - 8)}" y="${short(y + 4)}" text-anchor="end">10 cm</text></g>`;
}
