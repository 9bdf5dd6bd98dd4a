// The points placed in a still picture: which comes next, what it is, and whether there are enough to keep.

import type { Side } from "../../bout/words";
import { fitNow } from "./fit-words";
import { presetsOf, referenceNamed, type Reference } from "./references";

export interface ImagePoint {
  readonly x: number;
  readonly y: number;
}

export interface FitPoint {
  readonly image: ImagePoint;
  /** Metres along and across the piste. */
  readonly floor: readonly [number, number];
}

export type Corner = "left inner" | "left outer" | "right inner" | "right outer";
export const corners: readonly Corner[] = ["left inner", "left outer", "right inner", "right outer"];

export type CornerPoints = Readonly<Partial<Record<Corner, ImagePoint>>>;

/** `mirrored` where the camera stands opposite the referee, so that left on the screen is right on the floor. */
export type Placing =
  | {
      readonly what: "fit";
      readonly mirrored: boolean;
      readonly reference: Reference;
      readonly points: readonly FitPoint[];
      readonly selected: number;
    }
  | {
      readonly what: "platforms";
      /** Short names of the left and the right fencer. */
      readonly names: readonly [string, string];
      readonly points: CornerPoints;
      /** The same corners in earlier frames of the same still moment; what is kept is the mean. */
      readonly earlier: readonly CornerPoints[];
      readonly skipped: Side | undefined;
      readonly selected: Corner | undefined;
    };

export function newFit(mirrored: boolean): Placing {
  return { what: "fit", mirrored, reference: referenceNamed("tape strips"), points: [], selected: -1 };
}

export function newPlatforms(names: readonly [string, string]): Placing {
  return { what: "platforms", names, points: {}, earlier: [], skipped: undefined, selected: undefined };
}

/** The corner to place next; undefined when all are there. */
export function nextCorner(placing: Extract<Placing, { what: "platforms" }>): Corner | undefined {
  return corners.find((corner) => placing.points[corner] === undefined && sideOf(corner) !== placing.skipped);
}

export function sideOf(corner: Corner): Side {
  return corner.startsWith("left") ? "left" : "right";
}

/** A press in the picture: the next point, or the selected one moved where all are placed. */
export function placed(placing: Placing, at: ImagePoint): Placing {
  if (placing.what === "fit") {
    const floor = presetsOf(placing.reference, placing.mirrored)[placing.points.length]?.floor ?? [0, 0];
    return { ...placing, points: [...placing.points, { image: at, floor }], selected: placing.points.length };
  }
  const corner = nextCorner(placing) ?? placing.selected;
  if (corner === undefined) return placing;
  return { ...placing, points: { ...placing.points, [corner]: at }, selected: corner };
}

/** Moves the selected point by fractions of the frame; it stays inside. */
export function nudged(placing: Placing, x: number, y: number): Placing {
  const move = (point: ImagePoint): ImagePoint => ({ x: inside(point.x + x), y: inside(point.y + y) });
  if (placing.what === "fit")
    return {
      ...placing,
      points: placing.points.map((point, index) =>
        index === placing.selected ? { ...point, image: move(point.image) } : point,
      ),
    };
  const point = placing.selected === undefined ? undefined : placing.points[placing.selected];
  if (placing.selected === undefined || point === undefined) return placing;
  return { ...placing, points: { ...placing.points, [placing.selected]: move(point) } };
}

/** Takes the last point back. */
export function withoutLast(placing: Placing): Placing {
  if (placing.what === "fit") {
    const points = placing.points.slice(0, -1);
    return { ...placing, points, selected: points.length - 1 };
  }
  const last = corners.findLast((corner) => placing.points[corner] !== undefined);
  if (last === undefined) return { ...placing, skipped: undefined };
  const points = Object.fromEntries(Object.entries(placing.points).filter(([corner]) => corner !== last));
  return { ...placing, points, selected: corners.findLast((corner) => corner in points) };
}

/** Leaves one side's platform out, its points with it; the same side again brings it back. */
export function skipping(placing: Placing, side: Side): Placing {
  if (placing.what === "fit") return placing;
  if (placing.skipped === side) return { ...placing, skipped: undefined };
  const points = Object.fromEntries(
    Object.entries(placing.points).filter(([corner]) => sideOf(corner as Corner) !== side),
  );
  return { ...placing, points, skipped: side, selected: corners.findLast((corner) => corner in points) };
}

export function withFloor(placing: Placing, index: number, floor: readonly [number, number]): Placing {
  if (placing.what === "platforms") return placing;
  return {
    ...placing,
    points: placing.points.map((point, place) => (place === index ? { ...point, floor } : point)),
  };
}

/** Other known points, or another size of them: the points placed on its corners take their new places. */
export function withReference(placing: Placing, reference: Reference): Placing {
  if (placing.what === "platforms") return placing;
  const presets = presetsOf(reference, placing.mirrored);
  const points = placing.points.map((point, index) => ({
    ...point,
    floor: presets[index]?.floor ?? point.floor,
  }));
  return { ...placing, reference, points };
}

/** Puts the corners placed aside to place them again in another frame of the same still moment. */
export function again(placing: Placing): Placing {
  if (placing.what === "fit" || nextCorner(placing) !== undefined) return placing;
  return { ...placing, earlier: [...placing.earlier, placing.points], points: {}, selected: undefined };
}

export function selecting(placing: Placing, selected: number): Placing {
  return placing.what === "fit" ? { ...placing, selected } : { ...placing, selected: corners[selected] };
}

export interface Readiness {
  readonly ready: boolean;
  /** What to do next, or what is still missing. */
  readonly words: string;
}

/** Whether the points can be kept, and what to say about them. */
export function readiness(placing: Placing): Readiness {
  return placing.what === "fit" ? fitReadiness(placing) : platformsReadiness(placing);
}

function fitReadiness({ points, reference, mirrored }: Extract<Placing, { what: "fit" }>): Readiness {
  const next = presetsOf(reference, mirrored)[points.length];
  const nextWords = next === undefined ? "Press where another known point is" : `Press on the ${next.words}`;
  const floors = new Set(points.map(({ floor }) => floor.join(" ")));
  if (floors.size < points.length)
    return { ready: false, words: "Two points have the same place on the floor." };
  switch (points.length) {
    case 0:
    case 1:
      return { ready: false, words: `${nextWords} (or set its place on the floor yourself).` };
    case 3:
      return {
        ready: false,
        words: `Three points are not enough for the whole floor. ${nextWords}, or take one back.`,
      };
    default:
      break;
  }
  const now = fitNow(points.map(({ image, floor }) => ({ image: [image.x, image.y], floor })));
  if (now.fit === undefined)
    return {
      ready: false,
      words: points.length === 2 ? `${now.problem} ${nextWords}.` : now.problem,
    };
  return points.length === 2
    ? { ready: true, words: `Two points give a scale along the piste only. ${nextWords}, or keep these.` }
    : {
        ready: true,
        words: `${points.length} points give the whole floor. Keep them, or add more${points.length === 4 ? ": four fit exactly, a fifth shows how far off they are" : ""}.`,
      };
}

function platformsReadiness(placing: Extract<Placing, { what: "platforms" }>): Readiness {
  const next = nextCorner(placing);
  const done = (side: Side): boolean => bothCorners(placing, side) !== undefined;
  const started = (side: Side): boolean =>
    corners.some((one) => sideOf(one) === side && one in placing.points);
  const whole = (side: Side): boolean =>
    corners.every((one) => sideOf(one) !== side || one in placing.points);
  const halfDone = (started("left") && !whole("left")) || (started("right") && !whole("right"));
  const frames = placing.earlier.length + (Object.keys(placing.points).length === 0 ? 0 : 1);
  const ready = (done("left") || done("right")) && !halfDone;
  const mean = frames > 1 ? ` The mean of ${frames} frames is kept.` : "";
  const alone =
    placing.skipped === undefined
      ? ""
      : " One platform alone doesn't tell where both stand together, nor their turn and their gap.";
  return {
    ready,
    words:
      next === undefined
        ? `Keep these corners, or press to move the marked one.${mean}${alone}`
        : `Press on the ${next.endsWith("inner") ? "inner" : "outer"} corner of the near edge of ${placing.names[sideOf(next) === "left" ? 0 : 1]}'s platform (${sideOf(next)} fencer).`,
  };
}

/** Both corners of a side, inner first, each the mean over the frames it was placed in; undefined unless both are placed. */
export function bothCorners(
  { points, earlier }: Extract<Placing, { what: "platforms" }>,
  side: Side,
): [[number, number], [number, number]] | undefined {
  const inner = mean([...earlier, points], `${side} inner`);
  const outer = mean([...earlier, points], `${side} outer`);
  return inner === undefined || outer === undefined ? undefined : [inner, outer];
}

function mean(frames: readonly CornerPoints[], corner: Corner): [number, number] | undefined {
  const seen = frames.flatMap((points) => points[corner] ?? []);
  if (seen.length === 0) return undefined;
  const sum = (part: (point: ImagePoint) => number) => seen.reduce((total, point) => total + part(point), 0);
  return [sum(({ x }) => x) / seen.length, sum(({ y }) => y) / seen.length];
}

function inside(value: number): number {
  return Math.min(1, Math.max(0, value));
}
