/** Shapes of what the tests use of the demo's ground truth; see truth.mjs. */
import type { Side } from "./timeline.mjs";

/** Centre in metres on the floor, angle in degrees counter-clockwise seen from above. */
export interface Pose {
  readonly x: number;
  readonly y: number;
  readonly angle: number;
}

export type Point = readonly [number, number];

export const platformLength: number;
export const platformWidth: number;
export const gapAtSetting: number;
/** Standard deviation of the noise of every clicked point, in fractions of the frame's width and height alike. */
export const clickNoise: number;
export const tapeMarks: readonly Point[];
/** Floor (x, y, 1) to image fractions (u, v, 1) up to a factor, three rows of three. */
export const homography: readonly (readonly [number, number, number])[];
/** Both platforms' true poses at a frame. */
export function platformsAt(frame: number): Record<Side, Pose>;
/** The corners of a platform's near long edge on the floor, inner one first. */
export function nearEdge(side: Side, pose: Pose): [Point, Point];
export function onPlatform(pose: Pose, along: number, across: number): Point;
/** The same corners in the picture at a frame, as fractions of its width and height. */
export function edgesInImage(frame: number): Record<Side, [Point, Point]>;
/** The movement of the frame as a whole: metres and degrees. */
export function frameAt(
  frame: number,
): Record<"along" | "across" | "turn" | "gap" | "leftTwist" | "rightTwist", number>;
