// What can this camera tell, before any platform is marked? The error a move will have, from the fit itself; the floor as
// the fit sees it, to be laid over the picture; and whether the camera still stands where it stood.

import { clickError, moveError, type MoveError } from "./error";
import { alongToImage, type Fit, type FloorFit, toAlong, toFloor, toImage } from "./fit";
import { inPicture } from "./doubt";
import { distance, type FloorPoint, type ImagePoint, weight } from "./points";
import { type Corners, type Platforms, poseOf } from "./pose";

/** Metres of two platforms as they mostly stand, and of what they go in some phrases: length of an edge, gap, half their
 * width, move; common practice, no source. */
const usual = { edge: 1, gap: 0.7, halfWidth: 0.43, move: 0.1 } as const;

/** Where the picture shows two platforms in the middle of the piste, or moved along it by metres; null where it doesn't show all four corners. */
export function platformsInMiddle(fit: Fit, moved = 0): Platforms | null {
  const near = fit.kind === "floor" ? nearSide(fit) * usual.halfWidth : 0;
  const corner = (along: number): ImagePoint | null =>
    fit.kind === "scale" ? alongToImage(fit, along) : toImage(fit, [along, near]);
  const corners = (sign: 1 | -1): Corners | null => {
    const inner = corner(moved + (sign * usual.gap) / 2);
    const outer = corner(moved + sign * (usual.gap / 2 + usual.edge));
    return inner !== null && outer !== null && inPicture(inner) && inPicture(outer) ? [inner, outer] : null;
  };
  const left = corners(-1);
  const right = corners(1);
  return left === null || right === null ? null : { left, right };
}

/** 95 % half-widths of a move of 10 cm in the middle of the piste, what a stretch of phrases makes of it; null where that is
 * out of the picture. Without a move the errors of the fit would all cancel out. */
export function expectedError(fit: Fit): MoveError | null {
  const [from, to] = [platformsInMiddle(fit), platformsInMiddle(fit, usual.move)];
  if (from === null || to === null) return null;
  const before = poseOf(fit, from);
  const after = poseOf(fit, to);
  return before.ok && after.ok ? moveError(before.value, after.value) : null;
}

/** Which side of the piste, by the sign of across, lies nearer to the camera: the way back grows with depth. */
function nearSide({ inverse }: FloorFit): 1 | -1 {
  return weight(inverse, [0, -1]) < weight(inverse, [0, 1]) ? -1 : 1;
}

/** Twice 0.95 quantile of chi-squared with two degrees of freedom, -2 ln 0.05: the difference of two clicks. */
const twoClicks = clickError * Math.sqrt(2 * -2 * Math.log(0.05));

/** How a point of the fit lies when it is pressed on again. */
export interface ReferenceCheck {
  /** Which point of the fit is nearest to the press, from 0. */
  readonly point: number;
  /** Metres on the floor between the press and where the fit has that point; null at or above the horizon. */
  readonly off: number | null;
  /** Farther apart than two clicks on one point come to lie 95 times in 100: the camera has moved. */
  readonly moved: boolean;
}

/** A fixed point of the floor pressed on again: does the fit still hold? */
export function checkReference(fit: Fit, press: ImagePoint): ReferenceCheck {
  let point = 0;
  fit.points.forEach(({ image }, index) => {
    if (distance(image, press) < distance(fit.points[point]?.image ?? image, press)) point = index;
  });
  const known = fit.points[point];
  if (known === undefined) return { point, off: null, moved: true };
  const moved = distance(known.image, press) > twoClicks;
  if (fit.kind === "scale") return { point, off: Math.abs(toAlong(fit, press) - known.floor[0]), moved };
  const floor = toFloor(fit, press);
  const before = toFloor(fit, known.image);
  return { point, off: floor === null || before === null ? null : distance(floor, before), moved };
}

/** A line of the floor as the picture shows it, in fractions; `axis` for the middle of the piste along and across. */
export interface GridLine {
  readonly from: ImagePoint;
  readonly to: ImagePoint;
  readonly axis: boolean;
}

/** Metres of floor shown each way, and between two lines. */
const gridReach = { along: 3, across: 1.5, every: 0.5 } as const;

/** The floor in squares of half a metre, as the fit sees it; of a scale a mark at every half metre. */
export function gridLines(fit: Fit): readonly GridLine[] {
  const { along, across, every } = gridReach;
  if (fit.kind === "scale") {
    return steps(along, every).map((x) => {
      const [imageX, imageY] = alongToImage(fit, x);
      return { from: [imageX, imageY - 0.01], to: [imageX, imageY + 0.01], axis: x === 0 };
    });
  }
  const line = (from: FloorPoint, to: FloorPoint, axis: boolean): readonly GridLine[] => {
    const ends = [toImage(fit, from), toImage(fit, to)] as const;
    return ends[0] === null || ends[1] === null ? [] : [{ from: ends[0], to: ends[1], axis }];
  };
  return [
    ...steps(along, every).flatMap((x) => line([x, -across], [x, across], x === 0)),
    ...steps(across, every).flatMap((y) => line([-along, y], [along, y], y === 0)),
  ];
}

function steps(reach: number, every: number): readonly number[] {
  const count = Math.round((2 * reach) / every) + 1;
  return Array.from({ length: count }, (_, index) => index * every - reach);
}
