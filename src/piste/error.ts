// How far may a measured move be off, only because nobody clicks a corner exactly?
// First-order propagation: each coordinate clicked is off by its own normal error, so variances add up over the clicks,
// each with the square of what a unit of it moves the result. The points of a fit shared by both poses move both.

import { normalHalfWidth } from "../statistics/level";
import { type Fit, type FloorFit, type ScaleFit, share } from "./fit";
import { type FloorPoint, type ImagePoint, project, weight } from "./points";
import type { Frame, Pose } from "./pose";

/** Standard deviation of a click, in fractions of the frame, for x and y alike. */
export const clickError = 0.001;

/** 95 % half-widths; those of a fit of two points are null but for `along`. Metres, `turn` and `twist` in degrees. */
export interface MoveError {
  readonly along: number;
  readonly across: number | null;
  readonly turn: number | null;
  readonly gap: number | null;
  readonly twist: { readonly left: number; readonly right: number } | null;
}

/** 95 % half-widths of the differences between two poses. */
export function moveError(from: Pose, to: Pose): MoveError {
  const before = sensitivityOf(from);
  const after = sensitivityOf(to);
  const error = (one: Sensitivity | null, other: Sensitivity | null): number | null =>
    one === null || other === null ? null : halfWidth(from.fit, one, to.fit, other);
  const left = error(before.twist?.left ?? null, after.twist?.left ?? null);
  const right = error(before.twist?.right ?? null, after.twist?.right ?? null);
  return {
    along: halfWidth(from.fit, before.along, to.fit, after.along),
    across: error(before.across, after.across),
    turn: error(before.turn, after.turn),
    gap: error(before.gap, after.gap),
    twist: left === null || right === null ? null : { left, right },
  };
}

/**
 * How a quantity of a pose gives way: `corners` is the variance from the clicks of its own corners, each of variance 1;
 * `fit` its derivatives by the nine entries of the matrix of a fit, or by the four coordinates clicked for a scale.
 */
interface Sensitivity {
  readonly corners: number;
  readonly fit: readonly number[];
}

interface PoseSensitivity {
  readonly along: Sensitivity;
  readonly across: Sensitivity | null;
  readonly turn: Sensitivity | null;
  readonly gap: Sensitivity | null;
  readonly twist: { readonly left: Sensitivity; readonly right: Sensitivity } | null;
}

const halfWidths = normalHalfWidth() * clickError;

function halfWidth(fromFit: Fit, from: Sensitivity, toFit: Fit, to: Sensitivity): number {
  const fits =
    fromFit === toFit
      ? fitVariance(
          toFit,
          to.fit.map((derivative, index) => derivative - (from.fit[index] ?? NaN)),
        )
      : fitVariance(fromFit, from.fit) + fitVariance(toFit, to.fit);
  return halfWidths * Math.sqrt(from.corners + to.corners + fits);
}

/** Variance from the clicks of a fit, each of variance 1. */
function fitVariance(fit: Fit, derivatives: readonly number[]): number {
  if (fit.kind === "scale") return derivatives.reduce((sum, derivative) => sum + derivative * derivative, 0);
  let sum = 0;
  for (const move of fit.moves) {
    let change = 0;
    for (let entry = 0; entry < 9; entry++) change += (derivatives[entry] ?? NaN) * (move[entry] ?? NaN);
    sum += change * change;
  }
  return sum;
}

/** A pose ends one step and begins the next, so each is asked for twice. */
const known = new WeakMap<Pose, PoseSensitivity>();

function sensitivityOf(pose: Pose): PoseSensitivity {
  let found = known.get(pose);
  if (found === undefined) known.set(pose, (found = workedOut(pose)));
  return found;
}

function workedOut(pose: Pose): PoseSensitivity {
  const { left, right } = pose.clicks;
  const clicks = [...left, ...right];
  if (pose.frame === null) {
    return { along: scaleSensitivity(pose.fit, clicks), across: null, turn: null, gap: null, twist: null };
  }
  const corners = clicks.map((click) => cornerOf(pose.fit, click));
  return {
    along: floorSensitivity(pose.fit, corners, evenly([0.25, 0])),
    across: floorSensitivity(pose.fit, corners, evenly([0, 0.25])),
    turn: floorSensitivity(pose.fit, corners, turnWeights(pose.frame)),
    gap: floorSensitivity(pose.fit, corners, gapWeights(pose.frame)),
    twist: {
      left: floorSensitivity(pose.fit, corners, twistWeights(pose.frame, "left")),
      right: floorSensitivity(pose.fit, corners, twistWeights(pose.frame, "right")),
    },
  };
}

interface Corner {
  readonly click: ImagePoint;
  readonly floor: FloorPoint;
  readonly weight: number;
}

function cornerOf({ matrix }: FloorFit, click: ImagePoint): Corner {
  return { click, floor: project(matrix, click), weight: weight(matrix, click) };
}

/** Derivatives of the weighted sum of the corners' floor coordinates. */
function floorSensitivity({ matrix }: FloorFit, corners: readonly Corner[], weights: Weights): Sensitivity {
  const fit = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  const addTo = (row: number, [x, y]: ImagePoint, factor: number): void => {
    fit[row] = (fit[row] ?? NaN) + factor * x;
    fit[row + 1] = (fit[row + 1] ?? NaN) + factor * y;
    fit[row + 2] = (fit[row + 2] ?? NaN) + factor;
  };
  let own = 0;
  corners.forEach(({ click, floor, weight }, index) => {
    const [along, across] = weights[index] ?? [NaN, NaN];
    const top = along / weight;
    const middle = across / weight;
    const bottom = -(top * floor[0] + middle * floor[1]);
    addTo(0, click, top);
    addTo(3, click, middle);
    addTo(6, click, bottom);
    own += (top * matrix[0] + middle * matrix[3] + bottom * matrix[6]) ** 2;
    own += (top * matrix[1] + middle * matrix[4] + bottom * matrix[7]) ** 2;
  });
  return { corners: own, fit };
}

/** Derivatives of the mean place along the piste of the clicks, by the points of the scale: x and y of each. */
function scaleSensitivity(scale: ScaleFit, clicks: readonly ImagePoint[]): Sensitivity {
  const [first, second] = scale.points;
  const x = second.image[0] - first.image[0];
  const y = second.image[1] - first.image[1];
  const metres = (second.floor[0] - first.floor[0]) / (x * x + y * y) / clicks.length;
  const fit = [0, 0, 0, 0];
  let own = 0;
  for (const click of clicks) {
    const part = 2 * share(scale, click);
    const clickX = click[0] - first.image[0];
    const clickY = click[1] - first.image[1];
    const moves = [part * x - x - clickX, part * y - y - clickY, clickX - part * x, clickY - part * y];
    moves.forEach((move, index) => (fit[index] = (fit[index] ?? NaN) + metres * move));
    own += (metres * x) ** 2 + (metres * y) ** 2;
  }
  return { corners: own, fit };
}

/** What a metre of each corner, along and across, adds to a quantity: left inner and outer, right inner and outer. */
type Weights = readonly [FloorPoint, FloorPoint, FloorPoint, FloorPoint];

function evenly(each: FloorPoint): Weights {
  return [each, each, each, each];
}

function turnWeights({ left, right }: Frame): Weights {
  const { ahead, behind } = directionWeights(left.centre, right.centre, 0.5);
  return [behind, behind, ahead, ahead];
}

/** A platform's own direction, from its left end to its right end, less that of the frame. */
function twistWeights(frame: Frame, side: "left" | "right"): Weights {
  const { inner, outer } = frame[side];
  const own = side === "left" ? directionWeights(outer, inner, 1) : directionWeights(inner, outer, 1);
  const frameTurn = turnWeights(frame);
  const still: FloorPoint = [0, 0];
  const ownTurn: Weights =
    side === "left" ? [own.ahead, own.behind, still, still] : [still, still, own.behind, own.ahead];
  const less = (index: 0 | 1 | 2 | 3): FloorPoint => [
    ownTurn[index][0] - frameTurn[index][0],
    ownTurn[index][1] - frameTurn[index][1],
  ];
  return [less(0), less(1), less(2), less(3)];
}

/** What a metre of either end of a line adds to its direction in degrees; `share` of it where a point is part of an end. */
function directionWeights(
  from: FloorPoint,
  to: FloorPoint,
  share: number,
): { readonly ahead: FloorPoint; readonly behind: FloorPoint } {
  const x = to[0] - from[0];
  const y = to[1] - from[1];
  const degrees = ((180 / Math.PI) * share) / (x * x + y * y);
  return { ahead: [-y * degrees, x * degrees], behind: [y * degrees, -x * degrees] };
}

function gapWeights({ left, right, gap }: Frame): Weights {
  const x = (right.inner[0] - left.inner[0]) / gap;
  const y = (right.inner[1] - left.inner[1]) / gap;
  return [
    [-x, -y],
    [0, 0],
    [x, y],
    [0, 0],
  ];
}
