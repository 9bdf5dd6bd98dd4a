import { describe, expect, test } from "vitest";
import {
  clickError,
  type FitPoint,
  type FloorPoint,
  fitOf,
  type ImagePoint,
  type Move,
  moveBetween,
  moveError,
  type Platforms,
  poseOf,
} from "../../src/piste";
import { seededRandom } from "../../src/statistics";
import { type Camera, clicked, picture, picturesOf, platformsAt, usualCamera } from "./camera";
import { fitted, posed } from "./measured";

const four: readonly FloorPoint[] = [
  [-2.5, -0.75],
  [2.5, -0.75],
  [2.5, 0.75],
  [-2.5, 0.75],
];
const six: readonly FloorPoint[] = [...four, [0, -0.75], [0, 0.75]];
const before = platformsAt({ centre: [0.1, 0.05], direction: 2, gap: 0.9, twist: { left: 1, right: -2 } });
const after = platformsAt({ centre: [0.6, 0.1], direction: 9, gap: 0.8, twist: { left: 3, right: 2 } });
const high: Camera = { at: [1.5, -11, 4], towards: [0, 0, 0.2], zoom: 1.6, roll: -0.02 };

/** All that is clicked for one move. */
interface Clicks {
  readonly fit: readonly FitPoint[];
  readonly from: Platforms;
  readonly to: Platforms;
}

function scene(camera: Camera, floor: readonly FloorPoint[]): Clicks {
  return { fit: clicked(camera, floor), from: picturesOf(camera, before), to: picturesOf(camera, after) };
}

/** Both ends of a scale lie at the depth of the platforms, which here stand straight on the piste. */
function scaleScene(): Clicks {
  const level = (x: number): Platforms =>
    picturesOf(
      usualCamera,
      platformsAt({ centre: [x, 0], direction: 0, gap: 0.9, twist: { left: 0, right: 0 } }),
    );
  return {
    fit: clicked(usualCamera, [
      [-2.5, 0],
      [2.5, 0],
    ]),
    from: level(0.1),
    to: level(0.6),
  };
}

function moveOf({ fit, from, to }: Clicks): Move {
  const found = fitted(fit);
  return moveBetween(posed(found, from), posed(found, to));
}

/** Every coordinate clicked, moved by what `offset` gives for it in turn. */
function disturbed({ fit, from, to }: Clicks, offset: () => number): Clicks {
  const point = ([x, y]: ImagePoint): ImagePoint => [x + offset(), y + offset()];
  const platforms = ({ left, right }: Platforms): Platforms => ({
    left: [point(left[0]), point(left[1])],
    right: [point(right[0]), point(right[1])],
  });
  return {
    fit: fit.map(({ floor, image }) => ({ floor, image: point(image) })),
    from: platforms(from),
    to: platforms(to),
  };
}

const quantities = ["along", "across", "turn", "gap"] as const;

/** Half-widths by central differences: every coordinate in turn a little up and a little down, all fitted afresh. */
function byDifferences(clicks: Clicks): Record<(typeof quantities)[number], number> {
  const step = 1e-5;
  const coordinates = 2 * clicks.fit.length + 16;
  const sums = { along: 0, across: 0, turn: 0, gap: 0 };
  for (let coordinate = 0; coordinate < coordinates; coordinate++) {
    const moved = (by: number): Move => {
      let index = 0;
      return moveOf(disturbed(clicks, () => (index++ === coordinate ? by : 0)));
    };
    const up = moved(step);
    const down = moved(-step);
    for (const quantity of quantities) {
      sums[quantity] += (((up[quantity] ?? 0) - (down[quantity] ?? 0)) / (2 * step)) ** 2;
    }
  }
  const halfWidth = (sum: number): number => 1.959963984540054 * clickError * Math.sqrt(sum);
  return {
    along: halfWidth(sums.along),
    across: halfWidth(sums.across),
    turn: halfWidth(sums.turn),
    gap: halfWidth(sums.gap),
  };
}

describe("the error of a move agrees with central differences", () => {
  test.each([
    ["a fit of four points", scene(usualCamera, four)],
    ["a fit of four points from above", scene(high, four)],
    ["a fit of six points", scene(usualCamera, six)],
  ])("for %s", (_, clicks) => {
    const { error } = moveOf(clicks);
    const expected = byDifferences(clicks);
    for (const quantity of quantities) {
      expect(Math.abs((error[quantity] ?? NaN) / expected[quantity] - 1)).toBeLessThan(1e-6);
    }
  });

  test("for a fit of two points", () => {
    const clicks = scaleScene();
    expect(Math.abs(moveOf(clicks).error.along / byDifferences(clicks).along - 1)).toBeLessThan(1e-6);
  });

  test("to a hundredth for six points clicked with errors, which do not lie quite right to each other", () => {
    const normal = normals(2);
    const clicks = disturbed(scene(usualCamera, six), () => clickError * normal());
    const { error } = moveOf(clicks);
    const expected = byDifferences(clicks);
    for (const quantity of quantities) {
      expect(Math.abs((error[quantity] ?? NaN) / expected[quantity] - 1)).toBeLessThan(0.01);
    }
  });
});

describe("of 2500 moves clicked with errors, 93 to 97 in 100 lie within their error of the truth", () => {
  test.each([
    ["a fit of four points", scene(usualCamera, four), quantities],
    ["a fit of four points from above", scene(high, four), quantities],
    ["a fit of six points", scene(usualCamera, six), quantities],
    ["a fit of two points", scaleScene(), ["along"] as const],
  ])(
    "for %s",
    (_, clicks, measured) => {
      const truth = moveOf(clicks);
      const normal = normals(9);
      const moves = Array.from({ length: 2500 }, () =>
        moveOf(disturbed(clicks, () => clickError * normal())),
      );
      for (const quantity of measured) {
        const held = moves.filter(
          (move) =>
            Math.abs((move[quantity] ?? NaN) - (truth[quantity] ?? NaN)) <= (move.error[quantity] ?? NaN),
        ).length;
        expect(held / moves.length, quantity).toBeGreaterThan(0.93);
        expect(held / moves.length, quantity).toBeLessThan(0.97);
      }
    },
    30_000,
  );
});

describe("the error of a move", () => {
  const clicks = scene(usualCamera, four);
  const fit = fitted(clicks.fit);

  test("leaves the errors of a shared fit out where nothing moved", () => {
    const pose = posed(fit, clicks.from);
    const again = posed(fit, clicks.from);
    const elsewhere = posed(fitted(clicks.fit), clicks.from);
    const shared = moveError(pose, again);
    const apart = moveError(pose, elsewhere);
    for (const quantity of quantities) {
      expect(shared[quantity] ?? NaN).toBeLessThan(apart[quantity] ?? NaN);
    }
    // By hand: the eight corners' own clicks, each moving the mean along by a quarter of what it moves itself.
    const corners = [...clicks.from.left, ...clicks.from.right];
    const squares = corners.map(([x, y]) => slope([x, y], [1, 0]) ** 2 + slope([x, y], [0, 1]) ** 2);
    const sum = (2 * squares.reduce((total, square) => total + square, 0)) / 16;
    expect(shared.along).toBeCloseTo(1.959963984540054 * clickError * Math.sqrt(sum), 8);
  });

  test("is larger across than along for a camera beside the piste", () => {
    const { error } = moveOf(clicks);
    expect(error.across ?? NaN).toBeGreaterThan(error.along);
  });

  test("is read from both fits where the fit changed in between", () => {
    const other = fitted(clicked(high, six));
    const from = posed(fit, clicks.from);
    const to = posed(other, picturesOf(high, after));
    expect(moveError(from, to)).toEqual(moveError(to, from));
  });

  /** Metres along the piste for a unit of the picture in a direction, by differences of the true camera's inverse. */
  function slope(image: ImagePoint, direction: ImagePoint): number {
    const step = 1e-6;
    const along = (sign: number): number => {
      const pose = poseOf(fit, {
        left: [
          [image[0] + sign * step * direction[0], image[1] + sign * step * direction[1]],
          picture(usualCamera, [-3, 0.2]),
        ],
        right: [picture(usualCamera, [1, 0.2]), picture(usualCamera, [2, 0.2])],
      });
      return pose.ok ? 4 * pose.value.along : NaN;
    };
    return (along(1) - along(-1)) / (2 * step);
  }
});

test("corners clicked a tenth of the picture off make a bad fit or none, and never a crash", () => {
  const normal = normals(4);
  const outcomes = Array.from({ length: 200 }, () => {
    const clicks = disturbed(scene(usualCamera, four), () => 0.1 * normal());
    const fit = fitOf(clicks.fit);
    return fit.ok ? poseOf(fit.value, clicks.from).ok : "refused";
  });
  expect(outcomes).toContain("refused");
  expect(outcomes).toContain(true);
});

/** Normal numbers from our seeded generator: Box and Muller, Annals of Mathematical Statistics 29 (1958) 610-611. */
function normals(seed: number): () => number {
  const random = seededRandom(seed);
  const numbers = new Uint32Array(2);
  return () => {
    random(numbers);
    const [first = 0, second = 0] = numbers;
    return Math.sqrt(-2 * Math.log((first + 1) / 2 ** 32)) * Math.cos((2 * Math.PI * second) / 2 ** 32);
  };
}
