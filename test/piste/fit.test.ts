import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  alongToImage,
  fitOf,
  type FitPoint,
  type FloorPoint,
  toAlong,
  toFloor,
  toImage,
} from "../../src/piste";
import { distance } from "../../src/piste/points";
import { anyCamera, between, clicked, picture, usualCamera } from "./camera";
import { fitted, floorFitted } from "./measured";

const rectangle: readonly FloorPoint[] = [
  [-2, -0.75],
  [2, -0.75],
  [2, 0.75],
  [-2, 0.75],
];
const around = between(-0.3, 0.3);
/** Four floor points near the corners of a rectangle, and up to four more anywhere near. */
const anyFloor: fc.Arbitrary<readonly FloorPoint[]> = fc
  .tuple(
    fc.array(fc.tuple(around, around), { minLength: 4, maxLength: 4 }),
    fc.uniqueArray(fc.tuple(fc.integer({ min: -20, max: 20 }), fc.integer({ min: -8, max: 8 })), {
      maxLength: 4,
      selector: String,
    }),
  )
  .map(([moves, more]) => [
    ...rectangle.map(([x, y], index): FloorPoint => [
      x + (moves[index]?.[0] ?? 0),
      y + (moves[index]?.[1] ?? 0),
    ]),
    ...more.map(([x, y]): FloorPoint => [x / 10 + 0.05, y / 20 + 0.31]),
  ]);
const anyPlace: fc.Arbitrary<FloorPoint> = fc.tuple(between(-3, 3), between(-1.5, 1.5));

describe("a fit of four or more points", () => {
  test("finds any floor point again, from any camera, and its picture", () => {
    fc.assert(
      fc.property(anyCamera, anyFloor, anyPlace, (camera, floor, place) => {
        const fit = floorFitted(clicked(camera, floor));
        const image = picture(camera, place);
        expect(distance(toFloor(fit, image) ?? [NaN, NaN], place)).toBeLessThan(1e-9);
        expect(distance(toImage(fit, place) ?? [NaN, NaN], image)).toBeLessThan(1e-10);
        expect(fit.mirrored).toBe(false);
      }),
    );
  });

  test("leaves residuals only where there are more than four points", () => {
    fc.assert(
      fc.property(anyCamera, anyFloor, (camera, floor) => {
        const { residuals } = floorFitted(clicked(camera, floor));
        expect(residuals === null).toBe(floor.length === 4);
        if (residuals !== null) expect(residuals).toHaveLength(floor.length);
        for (const residual of residuals ?? []) expect(residual).toBeLessThan(1e-9);
      }),
    );
  });

  test("shows in metres which point was clicked in the wrong place", () => {
    const points = [...clicked(usualCamera, [...rectangle, [0, 0], [-1, 0.2], [1, 0.2]])].map(
      (point, index) =>
        index === 5 ? { ...point, image: [point.image[0] + 0.02, point.image[1]] as const } : point,
    );
    const residuals = floorFitted(points).residuals ?? [];
    const largest = Math.max(...residuals);
    expect(residuals.indexOf(largest)).toBe(5);
    expect(largest).toBeGreaterThan(0.05);
  });

  test("does not mind the order of its points", () => {
    const points = clicked(usualCamera, [...rectangle, [0.3, 0.1]]);
    const there = floorFitted(points);
    const back = floorFitted([...points].reverse());
    for (const [index, entry] of there.matrix.entries()) expect(back.matrix[index]).toBeCloseTo(entry, 10);
  });

  test("knows no floor at or above its horizon, and no picture of what lies behind the camera", () => {
    const fit = floorFitted(clicked(usualCamera, rectangle));
    expect(toFloor(fit, [0.5, 0.9])).not.toBeNull();
    expect(toFloor(fit, [0.5, -0.5])).toBeNull();
    expect(toImage(fit, [0, 5])).not.toBeNull();
    expect(toImage(fit, [0, -40])).toBeNull();
  });

  test("tells when left and right are mixed up", () => {
    const points = clicked(usualCamera, rectangle).map(({ image, floor: [x, y] }): FitPoint => {
      return { image, floor: [-x, y] };
    });
    expect(floorFitted(points).mirrored).toBe(true);
  });
});

describe("a fit of two points", () => {
  const points: readonly FitPoint[] = [
    { image: [0.2, 0.81], floor: [-2, 0] },
    { image: [0.8, 0.79], floor: [2, 0] },
  ];

  test("is a scale along the piste", () => {
    const fit = fitted(points);
    expect(fit.kind).toBe("scale");
    if (fit.kind !== "scale") return;
    expect(toAlong(fit, [0.2, 0.81])).toBeCloseTo(-2, 12);
    expect(toAlong(fit, [0.5, 0.8])).toBeCloseTo(0, 12);
    expect(toAlong(fit, [0.95, 0.785])).toBeCloseTo(3, 12);
  });

  test("finds its way back to the line through both points", () => {
    const fit = fitted(points);
    if (fit.kind !== "scale") throw new Error("not a scale");
    fc.assert(
      fc.property(between(-7, 7), (along) => {
        expect(toAlong(fit, alongToImage(fit, along))).toBeCloseTo(along, 10);
      }),
    );
  });

  test("may run from right to left in the picture of a camera on the other side", () => {
    const fit = fitted(points.map(({ image, floor: [x, y] }) => ({ image, floor: [-x, y] })));
    if (fit.kind !== "scale") throw new Error("not a scale");
    expect(toAlong(fit, [0.2, 0.81])).toBeCloseTo(2, 12);
  });
});

describe("no fit is made of", () => {
  const [first, second, third, fourth] = clicked(usualCamera, rectangle);
  if (first === undefined || second === undefined || third === undefined || fourth === undefined)
    throw new Error();
  const at = (floor: FloorPoint): FitPoint => ({ floor, image: picture(usualCamera, floor) });

  test.each<readonly [string, readonly FitPoint[], RegExp]>([
    ["no point", [], /two points .* or four or more .*; there are 0$/],
    ["one point", [first], /there is 1$/],
    ["three points", [first, second, third], /there are 3$/],
    [
      "a point that is no number",
      [first, second, third, { ...fourth, image: [NaN, 0] }],
      /point 4 is not a place/,
    ],
    ["a point at infinity", [{ ...first, floor: [Infinity, 0] }, second], /point 1 is not a place/],
    [
      "one place in the picture twice",
      [first, second, third, { ...fourth, image: second.image }],
      /points 2 and 4 .* picture/,
    ],
    [
      "one place on the floor twice",
      [first, second, third, { ...fourth, floor: first.floor }],
      /points 1 and 4 .* floor/,
    ],
    ["two points at one place", [first, first], /points 1 and 2 have the same place in the picture/],
    ["two points one behind the other", [at([0, 0]), at([0, 1])], /different depths/],
    ["two points aslant", [at([-1, 0]), at([1, 1])], /different depths/],
    [
      "points on one line",
      [at([-2, 0]), at([-1, 0]), at([1, 0]), at([2, 0]), at([3, 0])],
      /all points lie on one line/,
    ],
    [
      "three on a line and one off it",
      [at([-2, 0]), at([0, 0]), at([2, 0]), at([0, 1])],
      /all points but one/,
    ],
    [
      "one off the line, named first",
      [at([0, 1]), at([-2, 0]), at([0, 0]), at([1, 0]), at([2, 0])],
      /all points but one/,
    ],
    [
      "three on a line in the picture only",
      [
        first,
        second,
        third,
        {
          ...fourth,
          image: [(first.image[0] + second.image[0]) / 2, (first.image[1] + second.image[1]) / 2],
        },
      ],
      /in the picture/,
    ],
    [
      "points with each other's place",
      [first, second, { ...third, floor: fourth.floor }, { ...fourth, floor: third.floor }],
      /each other's place/,
    ],
  ])("%s", (_, points, reason) => {
    const fit = fitOf(points);
    expect(fit.ok ? "a fit" : fit.problem).toMatch(reason);
  });

  test("whatever is thrown at it: it gives a fit that works or a reason", () => {
    const wild = fc.oneof(fc.double(), between(0, 1), between(-2, 2), fc.integer({ min: -2, max: 2 }));
    const point: fc.Arbitrary<FitPoint> = fc.record({
      image: fc.tuple(wild, wild),
      floor: fc.tuple(wild, wild),
    });
    fc.assert(
      fc.property(fc.array(point, { maxLength: 7 }), (points) => {
        const fit = fitOf(points);
        if (!fit.ok) {
          expect(fit.problem).toMatch(/\w/);
        } else if (fit.value.kind === "scale") {
          expect(toAlong(fit.value, [0.5, 0.5])).not.toBeNaN();
        } else {
          const { matrix, inverse, moves } = fit.value;
          expect([...matrix, ...inverse, ...moves.flat()].every(Number.isFinite)).toBe(true);
        }
      }),
      { numRuns: 2000 },
    );
  });

  test("four points at random in the picture and on the floor, unless a camera could see them so", () => {
    const place = fc.tuple(between(0, 1), between(0, 1));
    fc.assert(
      fc.property(
        fc.array(fc.record({ image: place, floor: place }), { minLength: 4, maxLength: 4 }),
        (points) => {
          const fit = fitOf(points);
          if (!fit.ok || fit.value.kind === "scale") return;
          for (const { image, floor } of points) {
            expect(distance(toFloor(fit.value, image) ?? [NaN, NaN], floor)).toBeLessThan(1e-6);
          }
        },
      ),
      { numRuns: 1000 },
    );
  });
});
