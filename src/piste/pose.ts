// Where do the platforms stand at a still moment, and how do they lie to each other?

import { failure, type Result, success } from "../bout/result";
import { type Fit, type FloorFit, type ScaleFit, toAlong, toFloor } from "./fit";
import { distance, type FloorPoint, type ImagePoint, midpoint } from "./points";

/** Both corners of a platform's near long edge as clicked, the inner one first. */
export type Corners = readonly [inner: ImagePoint, outer: ImagePoint];

export interface Platforms {
  readonly left: Corners;
  readonly right: Corners;
}

/** One platform on the floor: metres, and degrees of its edge from its left end to its right end. */
export interface Platform {
  readonly inner: FloorPoint;
  readonly outer: FloorPoint;
  readonly centre: FloorPoint;
  readonly direction: number;
}

/**
 * Both platforms on the floor. `centre`: mean of their two centres. `direction`: degrees counter-clockwise from the
 * piste's axis, of the line from the left centre to the right one. `gap`: metres between the inner corners.
 */
export interface Frame {
  readonly left: Platform;
  readonly right: Platform;
  readonly centre: FloorPoint;
  readonly direction: number;
  readonly gap: number;
}

/** What a whole floor tells of both platforms. `along`: metres along the piste of the mean of both centres. */
export interface FloorPose {
  readonly fit: FloorFit;
  readonly clicks: Platforms;
  readonly along: number;
  readonly frame: Frame;
}

/** A scale tells the place along the piste only. */
export interface ScalePose {
  readonly fit: ScaleFit;
  readonly clicks: Platforms;
  readonly along: number;
  readonly frame: null;
}

export type Pose = FloorPose | ScalePose;

/** Nearer than this, in fractions of the frame or in metres, two corners are one. */
const samePlace = 1e-6;

/** The pose of both platforms; else a reason, to be read by the person who clicked their corners. */
export function poseOf(fit: Fit, clicks: Platforms): Result<Pose, string> {
  const fault = faultOfCorners("left", clicks.left) ?? faultOfCorners("right", clicks.right);
  if (fault !== null) return failure(fault);
  if (fit.kind === "scale") {
    const corners = [...clicks.left, ...clicks.right];
    const along = corners.reduce((sum, corner) => sum + toAlong(fit, corner), 0) / corners.length;
    return success({ fit, clicks, along, frame: null });
  }
  const left = platformOf(fit, "left", clicks.left);
  if (!left.ok) return left;
  const right = platformOf(fit, "right", clicks.right);
  if (!right.ok) return right;
  const frame = frameOf(left.value, right.value);
  if (!frame.ok) return frame;
  return success({ fit, clicks, along: frame.value.centre[0], frame: frame.value });
}

/** One platform on the floor, as when the other one is hidden; else a reason. */
export function platformOf(
  fit: FloorFit,
  side: "left" | "right",
  corners: Corners,
): Result<Platform, string> {
  const fault = faultOfCorners(side, corners);
  if (fault !== null) return failure(fault);
  const inner = toFloor(fit, corners[0]);
  const outer = toFloor(fit, corners[1]);
  if (inner === null || outer === null) {
    return failure(`a corner of the ${side} platform lies above the horizon that the fit gives the picture`);
  }
  const direction = side === "left" ? directionOf(outer, inner) : directionOf(inner, outer);
  return success({ inner, outer, centre: midpoint(inner, outer), direction });
}

/** Degrees counter-clockwise from the x axis, over -180 … 180. */
export function directionOf(from: FloorPoint, to: FloorPoint): number {
  return (Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI;
}

function frameOf(left: Platform, right: Platform): Result<Frame, string> {
  const gap = distance(left.inner, right.inner);
  if (gap < samePlace) return failure("both platforms have their inner corner at the same place");
  if (distance(left.centre, right.centre) < samePlace) {
    return failure("both platforms have their centre at the same place");
  }
  const centre = midpoint(left.centre, right.centre);
  return success({ left, right, centre, direction: directionOf(left.centre, right.centre), gap });
}

function faultOfCorners(side: string, [inner, outer]: Corners): string | null {
  if (![...inner, ...outer].every(Number.isFinite)) return `a corner of the ${side} platform is not a place`;
  if (distance(inner, outer) < samePlace) return `both corners of the ${side} platform have the same place`;
  return null;
}
