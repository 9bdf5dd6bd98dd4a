// How did the platforms move from one still moment to the next?

import { moveError, type MoveError } from "./error";
import type { Pose } from "./pose";

/**
 * From one pose to the next, in metres and degrees: the mean of the two centres moved `along` and `across` the piste,
 * the line from the left centre to the right one made a `turn`, the distance between the inner corners grew by `gap`,
 * and each platform turned by its `twist` beyond that. With a fit of two points all but `along` are null.
 */
export interface Move {
  readonly along: number;
  readonly across: number | null;
  readonly turn: number | null;
  readonly gap: number | null;
  readonly twist: { readonly left: number; readonly right: number } | null;
  readonly error: MoveError;
}

/** The move between two poses. Poses that share a fit must hold the very same fit for its errors to cancel out. */
export function moveBetween(from: Pose, to: Pose): Move {
  const along = to.along - from.along;
  const error = moveError(from, to);
  const before = from.frame;
  const after = to.frame;
  if (before === null || after === null) {
    return { along, across: null, turn: null, gap: null, twist: null, error };
  }
  const turn = wrapped(after.direction - before.direction);
  return {
    along,
    across: after.centre[1] - before.centre[1],
    turn,
    gap: after.gap - before.gap,
    twist: {
      left: wrapped(after.left.direction - before.left.direction - turn),
      right: wrapped(after.right.direction - before.right.direction - turn),
    },
    error,
  };
}

/** The same angle over -180 … 180 degrees, -180 left out. */
export function wrapped(degrees: number): number {
  const turned = degrees % 360;
  if (turned > 180) return turned - 360;
  return turned <= -180 ? turned + 360 : turned;
}
