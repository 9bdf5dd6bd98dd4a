// Cameras 1 to 5 m up and 5 to 12 m off on either side, platforms that slide, turn and close up, and somebody who clicks
// with errors: how often does the stated error hold the truth?

import {
  clickError,
  type FloorPoint,
  fitOf,
  type Move,
  moveBetween,
  type Platforms,
  poseOf,
} from "../../src/piste";
import { seededRandom } from "../../src/statistics";
import { type Camera, clicked, picturesOf, platformsAt, type Truth } from "./camera";

export const quantities = ["along", "across", "turn", "gap", "left twist", "right twist"] as const;
export type Quantity = (typeof quantities)[number];

const tapes: readonly FloorPoint[] = [
  [-2, -1],
  [2, -1],
  [2, 1],
  [-2, 1],
];

/** Share of moves whose error holds the truth, for each quantity. */
export function coverage(moves: number, seed: number): Readonly<Record<Quantity, number>> {
  const { uniform, normal } = numbers(seed);
  const held: Record<Quantity, number> = {
    along: 0,
    across: 0,
    turn: 0,
    gap: 0,
    "left twist": 0,
    "right twist": 0,
  };
  for (let count = 0; count < moves; count++) {
    const side = uniform(-1, 1) < 0 ? -1 : 1;
    const camera: Camera = {
      at: [uniform(-1.5, 1.5), side * uniform(5, 12), uniform(1, 5)],
      towards: [uniform(-0.5, 0.5), 0, 0.4],
      zoom: uniform(0.7, 1.5),
      roll: uniform(-0.05, 0.05),
    };
    const before: Truth = {
      centre: [uniform(-0.3, 0.3), uniform(-0.1, 0.1)],
      direction: uniform(-5, 5),
      gap: uniform(0.5, 1),
      twist: { left: uniform(-3, 3), right: uniform(-3, 3) },
    };
    const after: Truth = {
      centre: [before.centre[0] + uniform(-0.1, 0.1), before.centre[1] + uniform(-0.05, 0.05)],
      direction: before.direction + uniform(-3, 3),
      gap: before.gap + uniform(-0.05, 0.05),
      twist: { left: before.twist.left + uniform(-2, 2), right: before.twist.right + uniform(-2, 2) },
    };
    const exact = { fit: clicked(camera, tapes), from: seen(camera, before), to: seen(camera, after) };
    const slip = ([x, y]: readonly [number, number]): [number, number] => [
      x + clickError * normal(),
      y + clickError * normal(),
    ];
    const slipped = ({ left, right }: Platforms): Platforms => ({
      left: [slip(left[0]), slip(left[1])],
      right: [slip(right[0]), slip(right[1])],
    });
    const truth = measured(exact.fit, exact.from, exact.to);
    const move = measured(
      exact.fit.map(({ floor, image }) => ({ floor, image: slip(image) })),
      slipped(exact.from),
      slipped(exact.to),
    );
    const within = (
      quantity: Quantity,
      of: (move: Move) => number,
      error: number | null | undefined,
    ): void => {
      if (Math.abs(of(move) - of(truth)) <= (error ?? NaN)) held[quantity]++;
    };
    const { error } = move;
    within("along", ({ along }) => along, error.along);
    within("across", ({ across }) => across ?? NaN, error.across);
    within("turn", ({ turn }) => turn ?? NaN, error.turn);
    within("gap", ({ gap }) => gap ?? NaN, error.gap);
    within("left twist", ({ twist }) => twist?.left ?? NaN, error.twist?.left);
    within("right twist", ({ twist }) => twist?.right ?? NaN, error.twist?.right);
  }
  const share = (quantity: Quantity): number => held[quantity] / moves;
  return {
    along: share("along"),
    across: share("across"),
    turn: share("turn"),
    gap: share("gap"),
    "left twist": share("left twist"),
    "right twist": share("right twist"),
  };
}

function seen(camera: Camera, truth: Truth): Platforms {
  return picturesOf(camera, platformsAt(truth));
}

function measured(points: Parameters<typeof fitOf>[0], from: Platforms, to: Platforms): Move {
  const fit = fitOf(points);
  if (!fit.ok) throw new Error(fit.problem);
  const poses = [poseOf(fit.value, from), poseOf(fit.value, to)] as const;
  if (!poses[0].ok || !poses[1].ok) throw new Error("no pose");
  return moveBetween(poses[0].value, poses[1].value);
}

/** Normal numbers after Box and Muller, Annals of Mathematical Statistics 29 (1958) 610-611. */
function numbers(seed: number): {
  readonly uniform: (low: number, high: number) => number;
  readonly normal: () => number;
} {
  const random = seededRandom(seed);
  const one = new Uint32Array(1);
  const next = (): number => {
    random(one);
    return ((one[0] ?? 0) + 0.5) / 2 ** 32;
  };
  return {
    uniform: (low, high) => low + (high - low) * next(),
    normal: () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next()),
  };
}
