// Why can't these points make a fit? Reasons a coach understands, before anything is computed.

import type { FitPoint } from "./fit";
import { distance } from "./points";

type Point = readonly [number, number];

/** Nearer than this, in fractions of the frame or in metres, two points are one. */
const samePlace = 1e-6;
/** A set of points is a line where all lie within this share of its length: about the error of a click, 0.001. */
const lineWidth = 1e-3;
/** Larger numbers are no fractions of a frame and no metres of a piste. */
const farthest = 1e4;
/** Two points of a scale may differ in depth by this share of their distance along the piste. */
const levelSlope = 0.05;

/** What is wrong with the points of a fit, or null. Points are counted from 1, as a person would. */
export function faultOf(points: readonly FitPoint[]): string | null {
  return faultOfCount(points.length) ?? faultOfNumbers(points) ?? faultOfPlaces(points);
}

function faultOfCount(count: number): string | null {
  if (count === 2 || count >= 4) return null;
  return `a fit needs two points for a scale along the piste, or four or more for the whole floor; there ${
    count === 1 ? "is 1" : `are ${count}`
  }`;
}

function faultOfNumbers(points: readonly FitPoint[]): string | null {
  const wrong = points.findIndex(({ image, floor }) =>
    [...image, ...floor].some((value) => !(Math.abs(value) <= farthest)),
  );
  if (wrong === -1) return null;
  return `point ${wrong + 1} is not a place: image takes fractions of the frame, floor takes metres`;
}

function faultOfPlaces(points: readonly FitPoint[]): string | null {
  const images = points.map((point) => point.image);
  const floors = points.map((point) => point.floor);
  return (
    faultOfPair(images, "in the picture") ??
    faultOfPair(floors, "on the floor") ??
    (points.length === 2
      ? faultOfScale(floors)
      : (faultOfLine(images, "in the picture") ?? faultOfLine(floors, "on the floor")))
  );
}

function faultOfPair(points: readonly Point[], where: string): string | null {
  for (const [index, point] of points.entries()) {
    const other = points.findIndex((earlier) => distance(earlier, point) < samePlace);
    if (other < index) return `points ${other + 1} and ${index + 1} have the same place ${where}`;
  }
  return null;
}

function faultOfScale(floors: readonly Point[]): string | null {
  const [first, second] = floors;
  if (first === undefined || second === undefined) return null;
  if (Math.abs(second[1] - first[1]) <= levelSlope * Math.abs(second[0] - first[0])) return null;
  return "the two points lie at different depths: for a scale take two along the piste, or four for the whole floor";
}

/**
 * Points settle the whole floor unless all, or all but one, are on a line. Of any three points such a line runs through
 * two, so the three lines through the first three are all there are to try.
 */
function faultOfLine(points: readonly Point[], where: string): string | null {
  const [first, second, third] = points;
  if (first === undefined || second === undefined || third === undefined) return null;
  const pairs = [
    [first, second],
    [first, third],
    [second, third],
  ] as const;
  const length = Math.hypot(extent(points.map((point) => point[0])), extent(points.map((point) => point[1])));
  for (const [from, to] of pairs) {
    const off = points.filter((point) => distanceFromLine(point, from, to) > lineWidth * length).length;
    if (off === 0)
      return `all points lie on one line ${where}; a whole floor needs four, no three of them on a line`;
    if (off === 1) {
      return `all points but one lie on one line ${where}; a whole floor needs four, no three of them on a line`;
    }
  }
  return null;
}

function distanceFromLine(point: Point, from: Point, to: Point): number {
  const x = to[0] - from[0];
  const y = to[1] - from[1];
  return Math.abs((point[0] - from[0]) * y - (point[1] - from[1]) * x) / Math.hypot(x, y);
}

function extent(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}
