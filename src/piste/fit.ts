// Where on the floor is a point of the picture? A fit ties the two together: four or more known floor points give the
// whole floor (a homography), two give a scale along the piste, valid at their own depth only.

import { failure, type Result, success } from "../bout/result";
import { faultOf } from "./fit-faults";
import { homography, type Homography } from "./homography";
import {
  determinant,
  distance,
  type FloorPoint,
  type ImagePoint,
  inverse,
  type Matrix,
  project,
  weight,
} from "./points";

/** A floor point that is known, and where it was clicked in the picture. */
export interface FitPoint {
  readonly image: ImagePoint;
  readonly floor: FloorPoint;
}

/** A fit of four or more points. */
export interface FloorFit extends Homography {
  readonly kind: "floor";
  readonly points: readonly FitPoint[];
  /** Picture to floor; `inverse` is the way back. */
  readonly matrix: Matrix;
  readonly inverse: Matrix;
  /** Metres from each given floor point to where the fit puts its click; null for four points, which fit exactly. */
  readonly residuals: readonly number[] | null;
  /** The picture shows the floor as in a mirror: left and right, or near and far, are mixed up in the points. */
  readonly mirrored: boolean;
}

/** A fit of two points. */
export interface ScaleFit {
  readonly kind: "scale";
  readonly points: readonly [FitPoint, FitPoint];
}

export type Fit = FloorFit | ScaleFit;

/** The fit of two, or of four or more, points; else a reason, to be read by the person who clicked them. */
export function fitOf(points: readonly FitPoint[]): Result<Fit, string> {
  const fault = faultOf(points);
  if (fault !== null) return failure(fault);
  const [first, second, third] = points;
  if (first !== undefined && second !== undefined && third === undefined) {
    return success({ kind: "scale", points: [first, second] });
  }
  const found = homography(points.map(({ image, floor }) => ({ from: image, to: floor })));
  if (found === null) return failure("the points are too close to one line to show where the floor lies");
  const { matrix } = found;
  if (points.some(({ image }) => !(weight(matrix, image) > 0))) {
    return failure(
      "the points can't be seen like this from anywhere: two of them may have each other's place",
    );
  }
  return success({
    kind: "floor",
    points,
    ...found,
    inverse: inverse(matrix),
    residuals:
      points.length === 4 ? null : points.map(({ image, floor }) => distance(project(matrix, image), floor)),
    // Height is counted downwards in the picture and away from the referee on the floor, so a true view turns the
    // sense of rotation round.
    mirrored: determinant(matrix) > 0,
  });
}

/** The floor point under a point of the picture; null at or above the horizon. */
export function toFloor(fit: FloorFit, image: ImagePoint): FloorPoint | null {
  return weight(fit.matrix, image) > 0 ? project(fit.matrix, image) : null;
}

/** Where the picture shows a floor point; null for one behind the camera. */
export function toImage(fit: FloorFit, floor: FloorPoint): ImagePoint | null {
  return weight(fit.inverse, floor) > 0 ? project(fit.inverse, floor) : null;
}

/** Metres along the piste of a point of the picture, by its foot on the line through both points of the fit. */
export function toAlong(fit: ScaleFit, image: ImagePoint): number {
  const [first, second] = fit.points;
  return first.floor[0] + (second.floor[0] - first.floor[0]) * share(fit, image);
}

/** Where the picture shows a place along the piste, at the depth of the fit. */
export function alongToImage(fit: ScaleFit, along: number): ImagePoint {
  const [first, second] = fit.points;
  const part = (along - first.floor[0]) / (second.floor[0] - first.floor[0]);
  return [
    first.image[0] + part * (second.image[0] - first.image[0]),
    first.image[1] + part * (second.image[1] - first.image[1]),
  ];
}

/** How far along the way from the first point of the fit to the second a point of the picture lies: 0 at the first. */
export function share({ points: [first, second] }: ScaleFit, image: ImagePoint): number {
  const x = second.image[0] - first.image[0];
  const y = second.image[1] - first.image[1];
  return ((image[0] - first.image[0]) * x + (image[1] - first.image[1]) * y) / (x * x + y * y);
}
