import { describe, expect, test } from "vitest";
import { checkReference, expectedError, type FloorPoint, gridLines, toFloor } from "../../src/piste";
import { type Camera, clicked, picture, usualCamera } from "./camera";
import { fitted, floorFitted } from "./measured";

const tapes: readonly FloorPoint[] = [
  [-2, -1],
  [2, -1],
  [2, 1],
  [-2, 1],
];
const low: Camera = { ...usualCamera, at: [0.4, -9, 1.1] };
const high: Camera = { ...usualCamera, at: [0.4, -9, 4.5] };
const opposite: Camera = { ...usualCamera, at: [-0.4, 9, 2.2] };

describe("what a camera can tell before anything is marked", () => {
  test("moves across are told better from higher up, and moves along about as well", () => {
    const [below, above] = [low, high].map((camera) => expectedError(fitted(clicked(camera, tapes))));
    expect(above?.across ?? NaN).toBeLessThan((below?.across ?? NaN) / 2);
    expect(Math.abs((above?.along ?? NaN) / (below?.along ?? NaN) - 1)).toBeLessThan(0.5);
  });

  test("is the same from the referee's and from the opposite side", () => {
    const here = expectedError(fitted(clicked(usualCamera, tapes)));
    const there = expectedError(fitted(clicked(opposite, tapes)));
    expect(Math.abs((here?.along ?? NaN) / (there?.along ?? NaN) - 1)).toBeLessThan(0.1);
    expect(Math.abs((here?.turn ?? NaN) / (there?.turn ?? NaN) - 1)).toBeLessThan(0.2);
  });

  test("is nothing but along with a fit of two points", () => {
    const error = expectedError(
      fitted([
        { image: [0.1, 0.8], floor: [-2, 0] },
        { image: [0.9, 0.8], floor: [2, 0] },
      ]),
    );
    expect(error).toMatchObject({ across: null, turn: null, gap: null, twist: null });
    expect(error?.along ?? NaN).toBeGreaterThan(0);
  });

  test("is nothing where the middle of the piste is out of the picture", () => {
    expect(
      expectedError(
        fitted([
          { image: [0.1, 0.8], floor: [4, 0] },
          { image: [0.9, 0.8], floor: [6, 0] },
        ]),
      ),
    ).toBeNull();
  });
});

describe("a fixed point pressed on again", () => {
  const fit = fitted(clicked(usualCamera, tapes));
  test("within a click of where it was says that the fit holds", () => {
    const [x, y] = picture(usualCamera, [2, 1]);
    expect(checkReference(fit, [x + 0.001, y - 0.001])).toMatchObject({ point: 2, moved: false });
  });

  test("after the camera has moved says which point and by how many centimetres", () => {
    const moved: Camera = { ...usualCamera, towards: [0.2, 0.3, 0.5] };
    const check = checkReference(fit, picture(moved, [-2, -1]));
    expect(check).toMatchObject({ point: 0, moved: true });
    // The picture's middle went 10 cm to the right at the piste, so fixed points went about 10 cm to the left.
    expect(check.off ?? NaN).toBeGreaterThan(0.07);
    expect(check.off ?? NaN).toBeLessThan(0.13);
  });
});

test("the grid over the picture lies where the fit has the floor", () => {
  const fit = floorFitted(clicked(usualCamera, tapes));
  const lines = gridLines(fit);
  expect(lines.filter(({ axis }) => axis)).toHaveLength(2);
  for (const { from, to, axis } of lines) {
    const [a, b] = [toFloor(fit, from), toFloor(fit, to)];
    const same = ([0, 1] as const).find((one) => Math.abs((a?.[one] ?? NaN) - (b?.[one] ?? NaN)) < 1e-6);
    expect(same).toBeDefined();
    const place = a?.[same ?? 0] ?? NaN;
    expect(Math.abs(place * 2 - Math.round(place * 2))).toBeLessThan(1e-6);
    expect(axis).toBe(Math.abs(place) < 1e-6);
  }
});
