import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type FloorPoint, moveBetween } from "../../src/piste";
import { wrapped } from "../../src/piste/step";
import { anyCamera, anyTruth, between, clicked, picturesOf, platformsAt, usualCamera } from "./camera";
import { fitted, posed } from "./measured";

const marks: readonly FloorPoint[] = [
  [-2, -0.75],
  [2, -0.75],
  [2, 0.75],
  [-2, 0.75],
];

describe("the move between two poses", () => {
  test("is the one that was made, from any camera", () => {
    fc.assert(
      fc.property(anyCamera, anyTruth, anyTruth, (camera, before, after) => {
        const fit = fitted(clicked(camera, marks));
        const [from, to] = [before, after].map((truth) => posed(fit, picturesOf(camera, platformsAt(truth))));
        if (from === undefined || to === undefined) throw new Error("no poses");
        const move = moveBetween(from, to);
        expect(move.along).toBeCloseTo(after.centre[0] - before.centre[0], 8);
        expect(move.across).toBeCloseTo(after.centre[1] - before.centre[1], 8);
        expect(move.turn).toBeCloseTo(after.direction - before.direction, 7);
        expect(move.twist?.left).toBeCloseTo(after.twist.left - before.twist.left, 7);
        expect(move.twist?.right).toBeCloseTo(after.twist.right - before.twist.right, 7);
        expect(move.gap).toBeCloseTo((to.frame?.gap ?? NaN) - (from.frame?.gap ?? NaN), 12);
      }),
    );
  });

  test("undone is the same move backwards, with the same error", () => {
    const fit = fitted(clicked(usualCamera, marks));
    fc.assert(
      fc.property(anyTruth, anyTruth, (before, after) => {
        const from = posed(fit, picturesOf(usualCamera, platformsAt(before)));
        const to = posed(fit, picturesOf(usualCamera, platformsAt(after)));
        const there = moveBetween(from, to);
        const back = moveBetween(to, from);
        expect(back.along + there.along).toBe(0);
        expect(back.turn).toBeCloseTo(-(there.turn ?? NaN), 12);
        expect(back.error).toEqual(there.error);
      }),
    );
  });

  test("past half a turn is the shorter way round", () => {
    // A frame that points away from the right end, just short of and just past the half turn.
    const fit = fitted(clicked(usualCamera, marks));
    const [from, to] = [178, -177].map((direction) =>
      posed(
        fit,
        picturesOf(
          usualCamera,
          platformsAt({ centre: [0, 0], direction, gap: 0.9, twist: { left: 0, right: 0 } }),
        ),
      ),
    );
    if (from === undefined || to === undefined) throw new Error("no poses");
    const move = moveBetween(from, to);
    expect(move.turn).toBeCloseTo(5, 7);
    expect(move.twist?.left).toBeCloseTo(0, 7);
    expect(move.twist?.right).toBeCloseTo(0, 7);
  });

  test("with a fit of two points is known along the piste only", () => {
    const fit = fitted([
      { image: [0.2, 0.8], floor: [-2, 0] },
      { image: [0.8, 0.8], floor: [2, 0] },
    ]);
    const from = posed(fit, {
      left: [
        [0.4, 0.8],
        [0.3, 0.8],
      ],
      right: [
        [0.6, 0.8],
        [0.7, 0.8],
      ],
    });
    const to = posed(fit, {
      left: [
        [0.41, 0.8],
        [0.31, 0.8],
      ],
      right: [
        [0.61, 0.8],
        [0.71, 0.8],
      ],
    });
    const { error, ...move } = moveBetween(from, to);
    expect(move).toEqual({
      along: expect.closeTo(0.01 * (4 / 0.6), 12) as number,
      across: null,
      turn: null,
      gap: null,
      twist: null,
    });
    expect(error).toMatchObject({ across: null, turn: null, gap: null });
    // Eight corners clicked, each a quarter of a mean, at 6.667 m a frame; the shared fit adds little to so short a move.
    expect(error.along).toBeCloseTo(1.959964 * 0.001 * (4 / 0.6) * Math.sqrt(8 / 16), 4);
  });
});

test("angles wrap to above -180 and up to 180 degrees", () => {
  expect([0, 180, -180, 181, -181, 359, -359, 720, 539].map(wrapped)).toEqual([
    0, 180, 180, -179, 179, -1, 1, 0, 179,
  ]);
  fc.assert(
    fc.property(between(-1000, 1000), (degrees) => {
      const turned = wrapped(degrees);
      expect(turned).toBeGreaterThan(-180);
      expect(turned).toBeLessThanOrEqual(180);
      expect(Math.abs(Math.sin(((turned - degrees) * Math.PI) / 360))).toBeLessThan(1e-12);
    }),
  );
});
