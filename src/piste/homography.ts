// Which 3 by 3 matrix carries points of one plane to points of another, and how it gives way when a point is moved?

import { Matrix as Table, SingularValueDecomposition } from "ml-matrix";
import { determinant, inverse, type Matrix, multiply, weight } from "./points";

type Point = readonly [number, number];

/** Two points, one in each plane, that are pictures of each other. */
export interface Match {
  readonly from: Point;
  readonly to: Point;
}

/**
 * `matrix` maps `from` to `to`, scaled so that the centroid of the `from` points has weight 1. `moves` tells to first
 * order how the matrix changes for each unit by which a `from` point is moved: two for each point, its x, then its y.
 */
export interface Homography {
  readonly matrix: Matrix;
  readonly moves: readonly Matrix[];
}

/** Below this share of the largest singular value another one counts as 0: four points are then in no general place. */
const negligible = 1e-9;

/**
 * Normalised direct linear transformation for four or more matches: Hartley, "In defense of the eight-point
 * algorithm", IEEE Transactions on Pattern Analysis and Machine Intelligence 19 (1997) 580-593; for homographies
 * Hartley and Zisserman, Multiple View Geometry (2nd ed. 2004), algorithm 4.2. Null where the points do not settle one.
 */
export function homography(matches: readonly Match[]): Homography | null {
  const from = normalisation(matches.map((match) => match.from));
  const to = normalisation(matches.map((match) => match.to));
  const solved = solve(matches.map((match) => ({ from: from.apply(match.from), to: to.apply(match.to) })));
  if (solved === null) return null;
  const back = inverse(to.matrix);
  const restore = (normalised: Matrix): Matrix => multiply(multiply(back, normalised), from.matrix);
  const matrix = restore(solved.matrix);
  const scale = 1 / weight(matrix, from.centroid);
  if (!Number.isFinite(scale)) return null;
  return {
    matrix: times(matrix, scale),
    // The normalisation is held still: it bears on the matrix only by way of the residuals, an effect of second order.
    moves: solved.moves.map((move) => times(restore(move), scale * from.scale)),
  };
}

interface Normalisation {
  readonly matrix: Matrix;
  readonly centroid: Point;
  readonly scale: number;
  readonly apply: (point: Point) => Point;
}

/** Centroid to the origin, mean distance from it to the square root of 2. */
function normalisation(points: readonly Point[]): Normalisation {
  const n = points.length;
  const x = points.reduce((sum, point) => sum + point[0], 0) / n;
  const y = points.reduce((sum, point) => sum + point[1], 0) / n;
  const mean = points.reduce((sum, point) => sum + Math.hypot(point[0] - x, point[1] - y), 0) / n;
  const scale = Math.SQRT2 / mean;
  return {
    matrix: [scale, 0, -scale * x, 0, scale, -scale * y, 0, 0, 1],
    centroid: [x, y],
    scale,
    apply: (point) => [scale * (point[0] - x), scale * (point[1] - y)],
  };
}

/** The unit vector of nine that comes nearest to solving the two equations of every match. */
function solve(matches: readonly Match[]): Homography | null {
  const equations = Table.zeros(Math.max(9, 2 * matches.length), 9);
  matches.forEach(({ from: [x, y], to: [u, v] }, index) => {
    equations.setRow(2 * index, [-x, -y, -1, 0, 0, 0, u * x, u * y, u]);
    equations.setRow(2 * index + 1, [0, 0, 0, -x, -y, -1, v * x, v * y, v]);
  });
  const decomposition = new SingularValueDecomposition(equations);
  const [largest = 0, , , , , , , smallest = 0] = decomposition.diagonal;
  if (!(smallest > negligible * largest)) return null;
  const matrix = nine((index) => decomposition.rightSingularVectors.get(index, 8));
  if (!(Math.abs(determinant(matrix)) > negligible)) return null;
  return { matrix, moves: movesOf(matrix, matches, decomposition) };
}

/**
 * A moved point leaves its two equations unsatisfied by `dx` and `dy` times the move; the pseudo-inverse of the equations,
 * on the eight directions that change the mapping, says which change of the matrix makes that good.
 */
function movesOf(
  matrix: Matrix,
  matches: readonly Match[],
  { leftSingularVectors: left, rightSingularVectors: right, diagonal }: SingularValueDecomposition,
): readonly Matrix[] {
  const remedy = (equation: number): Matrix =>
    nine((index) => {
      let sum = 0;
      for (let direction = 0; direction < 8; direction++) {
        sum += (right.get(index, direction) * left.get(equation, direction)) / (diagonal[direction] ?? NaN);
      }
      return sum;
    });
  const [a, b, , d, e, , g, h] = matrix;
  return matches.flatMap(({ to: [u, v] }, index) => {
    const first = remedy(2 * index);
    const second = remedy(2 * index + 1);
    return [
      plus(times(first, a - u * g), times(second, d - v * g)),
      plus(times(first, b - u * h), times(second, e - v * h)),
    ];
  });
}

function nine(entry: (index: number) => number): Matrix {
  return [entry(0), entry(1), entry(2), entry(3), entry(4), entry(5), entry(6), entry(7), entry(8)];
}

function times([a, b, c, d, e, f, g, h, i]: Matrix, factor: number): Matrix {
  return [
    a * factor,
    b * factor,
    c * factor,
    d * factor,
    e * factor,
    f * factor,
    g * factor,
    h * factor,
    i * factor,
  ];
}

function plus(m: Matrix, n: Matrix): Matrix {
  return nine((index) => (m[index] ?? NaN) + (n[index] ?? NaN));
}
