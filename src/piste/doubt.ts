// Can these marks be right? No number rather than a wrong one: what a platform can't do is a slip of the hand, and the
// person who marked it is told which.

import type { Side } from "../bout/words";
import { type Fit, toAlong } from "./fit";
import { distance, type ImagePoint } from "./points";
import type { Platform, Pose } from "./pose";
import type { Move } from "./step";

/** Shortest and longest near edge of a platform, in metres: half and thrice what is usual; common practice, no source. */
const shortestEdge = 0.3;
const longestEdge = 4.5;
/** Two people can't fence over a wider gap between their platforms, in metres; common practice, no source. */
const widestGap = 3;
/** Farther, in metres and degrees, no frame goes between two stops of the referee; common practice, no source. */
const farthestMove = 1;
const widestTurn = 45;
/** By more than this, in metres, the same edge can't have grown. */
const edgeGrowth = 0.25;

/** Why a pose can't be what stood there, or null. */
export function doubtOfPose(pose: Pose): string | null {
  return doubtOfPicture(pose) ?? doubtOfOrder(pose) ?? doubtOfSizes(pose);
}

/** Why a move can't have happened: one of its two poses is marked wrong, or the camera moved. Null where it can. */
export function doubtOfMove(from: Pose, to: Pose, move: Move): string | null {
  const far = Math.hypot(move.along, move.across ?? 0);
  if (far > farthestMove + Math.hypot(move.error.along, move.error.across ?? 0))
    return `the platforms would have jumped by ${metres(far)} since they were marked before; one of the two is marked wrong, or the camera moved`;
  if (move.turn !== null && Math.abs(move.turn) > widestTurn + (move.error.turn ?? 0))
    return `the platforms would have turned by ${Math.round(Math.abs(move.turn))}° since they were marked before; one of the two is marked wrong`;
  if (from.frame === null || to.frame === null) return null;
  for (const side of ["left", "right"] as const) {
    const before = edge(from.frame[side]);
    const after = edge(to.frame[side]);
    // The gap is a distance between two corners as an edge is, so its error is about an edge's.
    if (Math.abs(after - before) > edgeGrowth + 2 * (move.error.gap ?? 0))
      return `the near edge of the ${side} platform would have changed from ${metres(before)} to ${metres(after)}; another corner was marked`;
  }
  return null;
}

function doubtOfPicture({ fit, clicks }: Pose): string | null {
  if (fit.kind === "floor" && fit.mirrored)
    return "the fit shows the floor as in a mirror: left and right, or near and far, are mixed up in its points";
  if (!fit.points.every(({ image }) => inPicture(image)))
    return "a point of the fit lies outside the picture, where nobody can have seen it";
  for (const side of ["left", "right"] as const)
    if (!clicks[side].every(inPicture))
      return `a corner of the ${side} platform lies outside the picture, where nobody can have seen it`;
  return null;
}

export function inPicture([x, y]: ImagePoint): boolean {
  return x >= 0 && x <= 1 && y >= 0 && y <= 1;
}

function doubtOfOrder({ fit, clicks, frame }: Pose): string | null {
  const along = (side: Side, corner: 0 | 1): number => {
    if (frame === null) return toAlong(fit, clicks[side][corner]);
    return corner === 0 ? frame[side].inner[0] : frame[side].outer[0];
  };
  const left = { inner: along("left", 0), outer: along("left", 1) };
  const right = { inner: along("right", 0), outer: along("right", 1) };
  if (left.inner + left.outer > right.inner + right.outer)
    return "the platform marked for left stands to the right of the other one: the sides are swapped";
  const swapped = [
    ...(left.inner < left.outer ? ["left"] : []),
    ...(right.inner > right.outer ? ["right"] : []),
  ];
  if (swapped.length === 0) return null;
  return `the inner and the outer corner of the ${swapped.join(" and the ")} platform are swapped`;
}

function doubtOfSizes({ frame }: Pose): string | null {
  if (frame === null) return null;
  for (const side of ["left", "right"] as const) {
    const long = edge(frame[side]);
    if (long < shortestEdge || long > longestEdge)
      return `the near edge of the ${side} platform would be ${metres(long)} long on the floor; look at its corners and at the fit's points`;
  }
  if (frame.gap > widestGap)
    return `the gap between the platforms would be ${metres(frame.gap)}; look at the corners and at the fit's points`;
  return null;
}

function edge({ inner, outer }: Platform): number {
  return distance(inner, outer);
}

function metres(value: number): string {
  return `${value.toFixed(2)} m`;
}

/** Whether a fit can be trusted to show the floor the right way round and was made of points that can be seen. */
export function doubtOfFit(fit: Fit): string | null {
  if (fit.kind === "floor" && fit.mirrored)
    return "these points show the floor as in a mirror: left and right, or near and far, are mixed up in some of them";
  return fit.points.every(({ image }) => inPicture(image))
    ? null
    : "a point lies outside the picture, where nobody can have seen it";
}
