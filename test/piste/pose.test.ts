import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type FloorPoint, platformOf, type Platforms, poseOf } from "../../src/piste";
import { anyCamera, anyTruth, clicked, picturesOf, platformsAt, usualCamera } from "./camera";
import { fitted, floorFitted, posed } from "./measured";

const marks: readonly FloorPoint[] = [
  [-2, -0.75],
  [2, -0.75],
  [2, 0.75],
  [-2, 0.75],
];
const straight = { centre: [0, 0], direction: 0, gap: 0.9, twist: { left: 0, right: 0 } } as const;

describe("the pose of two platforms", () => {
  test("is the one they were filmed in, from any camera on either side", () => {
    fc.assert(
      fc.property(anyCamera, anyTruth, (camera, truth) => {
        const floor = platformsAt(truth);
        const { along, frame } = posed(fitted(clicked(camera, marks)), picturesOf(camera, floor));
        if (frame === null) throw new Error("no frame");
        expect(along).toBe(frame.centre[0]);
        expectPoint(frame.centre, truth.centre);
        expect(frame.direction).toBeCloseTo(truth.direction, 7);
        expect(frame.left.direction).toBeCloseTo(truth.direction + truth.twist.left, 7);
        expect(frame.right.direction).toBeCloseTo(truth.direction + truth.twist.right, 7);
        const [inner, outer] = floor.left;
        expectPoint(frame.left.inner, inner);
        expectPoint(frame.left.outer, outer);
        expectPoint(frame.right.inner, floor.right[0]);
        if (truth.twist.left === 0 && truth.twist.right === 0) expect(frame.gap).toBeCloseTo(truth.gap, 8);
        expect(frame.gap).toBeCloseTo(
          Math.hypot(floor.right[0][0] - inner[0], floor.right[0][1] - inner[1]),
          8,
        );
      }),
    );
  });

  test("with a fit of two points is a place along the piste and nothing else", () => {
    const fit = fitted([
      { image: [0.2, 0.8], floor: [-2, 0] },
      { image: [0.8, 0.8], floor: [2, 0] },
    ]);
    const pose = posed(fit, {
      left: [
        [0.4, 0.8],
        [0.3, 0.8],
      ],
      right: [
        [0.6, 0.8],
        [0.75, 0.8],
      ],
    });
    expect(pose.frame).toBeNull();
    // Corners at -0.667, -1.333, 0.667 and 1.667 m.
    expect(pose.along).toBeCloseTo(1 / 12, 12);
  });

  test("of one platform alone can be told while the other is hidden", () => {
    const fit = floorFitted(clicked(usualCamera, marks));
    const { right } = picturesOf(usualCamera, platformsAt({ ...straight, twist: { left: 0, right: 4 } }));
    const platform = platformOf(fit, "right", right);
    expect(platform.ok && platform.value.direction).toBeCloseTo(4, 8);
    expect(platform.ok && platform.value.centre[0]).toBeCloseTo(0.95, 8);
  });
});

describe("no pose is made of", () => {
  const fit = floorFitted(clicked(usualCamera, marks));
  const { left, right } = picturesOf(usualCamera, platformsAt(straight));

  test.each<readonly [string, Platforms, RegExp]>([
    [
      "a corner that is no number",
      { left: [left[0], [NaN, 0.5]], right },
      /corner of the left platform is not a place/,
    ],
    ["two corners at one place", { left, right: [right[0], right[0]] }, /both corners of the right platform/],
    [
      "a corner in the sky",
      { left, right: [right[0], [0.5, -0.5]] },
      /corner of the right platform .* horizon/,
    ],
    ["one platform twice", { left, right: left }, /inner corner at the same place/],
    [
      "platforms lying across each other",
      { left: [left[0], left[1]], right: [left[1], left[0]] },
      /centre at the same place/,
    ],
  ])("%s", (_, platforms, reason) => {
    const pose = poseOf(fit, platforms);
    expect(pose.ok ? "a pose" : pose.problem).toMatch(reason);
  });
});

function expectPoint(actual: FloorPoint, expected: FloorPoint): void {
  expect(actual[0]).toBeCloseTo(expected[0], 8);
  expect(actual[1]).toBeCloseTo(expected[1], 8);
}
