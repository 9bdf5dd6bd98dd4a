import { expect, test } from "vitest";
import { homography } from "../../src/piste/homography";
import { project } from "../../src/piste/points";

type Point = readonly [number, number];
type Four = readonly [Point, Point, Point, Point];

interface Case {
  readonly name: string;
  readonly from: Four;
  readonly to: Four;
  readonly matrix: readonly number[];
  readonly mapped: readonly (readonly [from: Point, to: Point])[];
}

// Worked out in exact rational numbers; OpenCV 4.6.0 getPerspectiveTransform and scikit-image 0.19.3
// ProjectiveTransform agree. Matrices have 1 in their last place.
const cases: readonly Case[] = [
  {
    name: "the four points in the README of npm perspective-transform",
    from: [
      [158, 64],
      [494, 69],
      [495, 404],
      [158, 404],
    ],
    to: [
      [100, 500],
      [152, 564],
      [148, 604],
      [100, 560],
    ],
    matrix: [
      0.3869749383653648, 0.0426817447727256, 59.2427947968915, 0.958961061800316, 0.45628212376974614,
      434.8644299346542, 0.0012901794340898186, 0.00042681744772725595, 1,
    ],
    mapped: [
      [
        [250, 120],
        [117.27521003323227, 530.9202355782545],
      ],
      [
        [158, 64],
        [100, 500],
      ],
    ],
  },
  {
    name: "a unit square to a trapezium",
    from: [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ],
    to: [
      [0, 0],
      [4, 0],
      [3, 2],
      [1, 2],
    ],
    matrix: [4, 2, 0, 0, 4, 0, 0, 1, 1],
    mapped: [
      [
        [0.5, 0.5],
        [2, 4 / 3],
      ],
      [
        [0.25, 0.75],
        [10 / 7, 12 / 7],
      ],
    ],
  },
  {
    name: "a quadrilateral in the picture to a strip of 14 by 2 metres",
    from: [
      [212, 640],
      [1706, 655],
      [1490, 420],
      [402, 412],
    ],
    to: [
      [0, 0],
      [14, 0],
      [14, 2],
      [0, 2],
    ],
    matrix: [
      0.03900764520866359, 0.032506371007219655, -29.07369822885726, 0.0002630466885670162,
      -0.026199450181274814, 16.711882218039673, -7.064078110422618e-7, 0.004883521194221443, 1,
    ],
    mapped: [
      [
        [960, 640],
        [7.073771465353968, 0.04770172999901881],
      ],
      [
        [960, 500],
        [7.15670928096256, 1.1231006549565914],
      ],
      [
        [700, 520],
        [4.276698999550115, 0.9246565381783535],
      ],
    ],
  },
  {
    name: "a rectangle to itself",
    from: [
      [0, 0],
      [10, 0],
      [10, 5],
      [0, 5],
    ],
    to: [
      [0, 0],
      [10, 0],
      [10, 5],
      [0, 5],
    ],
    matrix: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    mapped: [
      [
        [3, 4],
        [3, 4],
      ],
    ],
  },
];

test.each(cases)("the homography of $name is the exact one", ({ from, to, matrix, mapped }) => {
  const found = homography(from.map((point, index) => ({ from: point, to: to[index] ?? [NaN, NaN] })));
  expect(found).not.toBeNull();
  if (found === null) return;
  const last = found.matrix[8];
  for (const [index, entry] of found.matrix.entries()) {
    const expected = matrix[index] ?? NaN;
    expect(Math.abs(entry / last - expected)).toBeLessThan(1e-11 * Math.max(1, Math.abs(expected)));
  }
  for (const [point, [x, y]] of mapped) {
    const [u, v] = project(found.matrix, point);
    expect(Math.abs(u - x)).toBeLessThan(1e-9);
    expect(Math.abs(v - y)).toBeLessThan(1e-9);
  }
});

test("it maps (250, 120) as the README of npm perspective-transform prints, which rounds its coefficients", () => {
  const [first] = cases;
  const found = homography(
    first?.from.map((from, index) => ({ from, to: first.to[index] ?? [NaN, NaN] })) ?? [],
  );
  expect(found).not.toBeNull();
  if (found === null) return;
  const [u, v] = project(found.matrix, [250, 120]);
  expect(Math.abs(u - 117.27521125839255)).toBeLessThan(1e-5);
  expect(Math.abs(v - 530.9202410878403)).toBeLessThan(1e-5);
});
