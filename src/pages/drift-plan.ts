// The piste from above, to scale: where both platforms went, one strip a stretch between re-centres, places numbered.

import type { Place, Stretch } from "../figures";
import { toAlong, type FloorPoint } from "../piste";
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

interface Edges {
  readonly left: readonly [FloorPoint, FloorPoint];
  readonly right: readonly [FloorPoint, FloorPoint];
}

/** Both near edges on the floor, inner corner first; a fit of two points has them all on one line. */
function edgesOf({ pose }: Place): Edges {
  if (pose.frame !== null) {
    const { left, right } = pose.frame;
    return { left: [left.inner, left.outer], right: [right.inner, right.outer] };
  }
  const { fit, clicks } = pose;
  const level = (corner: readonly [number, number]): FloorPoint => [toAlong(fit, corner), 0];
  return {
    left: [level(clicks.left[0]), level(clicks.left[1])],
    right: [level(clicks.right[0]), level(clicks.right[1])],
  };
}

/** `label` tells readers who don't see it what it shows. */
export function driftPlan(
  stretches: readonly Stretch[],
  { width, name }: { readonly width: number; readonly name: string },
  label: string,
): Markup {
  const shown = stretches.filter(({ places }) => places.length > 1).slice(0, mostStrips);
  const strips = shown.map(({ places, end }) => ({ places, end, edges: places.map(edgesOf) }));
  const points = strips.flatMap(({ edges }) => edges.flatMap(({ left, right }) => [...left, ...right]));
  const alongs = points.map(([x]) => x);
  const [from, to] = [Math.min(...alongs), Math.max(...alongs)];
  const scale = (width - 2 * margin) / Math.max(0.5, to - from);
  const x = (along: number): number => margin + (along - from) * scale;
  let y = heading;
  const drawn = strips.map(({ places, end, edges }, index) => {
    const across = edges.flatMap(({ left, right }) => [...left, ...right].map((point) => point[1]));
    const far = Math.max(...across);
    const height = words + (far - Math.min(...across)) * scale + 34;
    const top = y;
    y += height;
    return strip({
      places,
      edges,
      x,
      y: (value) => top + words + 14 + (far - value) * scale,
      top,
      width,
      words: `stretch ${index + 1}: ${counted((places.at(-1)?.phrases ?? 0) - (places[0]?.phrases ?? 0), "phrase")}, ${places[0] === undefined ? "" : spoken(places[0].at)} to ${spoken(places.at(-1)?.at ?? places[0]?.at ?? (0 as Place["at"]))}${end === "re-centre" ? ", then re-centred" : end === "distance" ? ", then the distance was set" : ""}`,
    });
  });
  const centre =
    from < 0 &&
    to > 0 &&
    markup`<path stroke-dasharray="2 4" stroke-opacity="0.6" d="M${short(x(0))} ${heading}V${short(y)}"/>`;
  return markup`<svg class="chart plan ${name}" viewBox="0 0 ${width} ${short(y + 24)}" role="img" aria-label="${label}"><g class="ticks"><text x="${margin}" y="13">\u2190 left end</text><text x="${width - margin}" y="13" text-anchor="end">right end \u2192</text></g>${centre}${drawn}${bar(width, y + 8, scale)}</svg>`;
}

interface Strip {
  readonly places: readonly Place[];
  readonly edges: readonly Edges[];
  readonly x: (along: number) => number;
  readonly y: (across: number) => number;
  readonly top: number;
  readonly width: number;
  readonly words: string;
}

function strip({ places, edges, x, y, top, width, words: told }: Strip): Markup {
  const side = (which: "left" | "right"): Markup => {
    const centres = edges.map((edge): FloorPoint => {
      const [inner, outer] = edge[which];
      return [(inner[0] + outer[0]) / 2, (inner[1] + outer[1]) / 2];
    });
    const pixels = centres.map(([along, across]) => [x(along), y(across)] as const);
    const path = pixels.map(([px, py]) => `${short(px)} ${short(py)}`).join("L");
    return markup`${edge(edges[0]?.[which], 0.35)}${edge(edges.at(-1)?.[which], 1)}<path stroke-width="1.25" d="M${path}"/>${pixels.map(
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
