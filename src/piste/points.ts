// Points and the 3 by 3 matrices that carry them from one plane to another.

/** Fractions of the frame's width and height, from its top left corner. */
export type ImagePoint = readonly [x: number, y: number];

/** Metres: along the piste, + towards the right end, 0 at the centre; across, + from the referee's side. */
export type FloorPoint = readonly [along: number, across: number];

/** Rows one after the other; maps [x, y, 1] to a multiple of the mapped point. */
// prettier-ignore
export type Matrix = readonly [
  number, number, number,
  number, number, number,
  number, number, number,
];

export function multiply(m: Matrix, n: Matrix): Matrix {
  const [a, b, c, d, e, f, g, h, i] = m;
  const [p, q, r, s, t, u, v, w, x] = n;
  return [
    a * p + b * s + c * v,
    a * q + b * t + c * w,
    a * r + b * u + c * x,
    d * p + e * s + f * v,
    d * q + e * t + f * w,
    d * r + e * u + f * x,
    g * p + h * s + i * v,
    g * q + h * t + i * w,
    g * r + h * u + i * x,
  ];
}

export function determinant(m: Matrix): number {
  const [a, b, c, d, e, f, g, h, i] = m;
  return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
}

/** The matrix that undoes this one, whose determinant must not be 0. */
export function inverse(m: Matrix): Matrix {
  const [a, b, c, d, e, f, g, h, i] = m;
  const scale = 1 / determinant(m);
  return [
    (e * i - f * h) * scale,
    (c * h - b * i) * scale,
    (b * f - c * e) * scale,
    (f * g - d * i) * scale,
    (a * i - c * g) * scale,
    (c * d - a * f) * scale,
    (d * h - e * g) * scale,
    (b * g - a * h) * scale,
    (a * e - b * d) * scale,
  ];
}

/** Third component of the mapped point before division: positive on the visible side of the horizon of a fit, 0 on it. */
export function weight(m: Matrix, [x, y]: readonly [number, number]): number {
  return m[6] * x + m[7] * y + m[8];
}

/** The mapped point; only to be used where `weight` is positive. */
export function project(m: Matrix, point: readonly [number, number]): readonly [number, number] {
  const [x, y] = point;
  const w = weight(m, point);
  return [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w];
}

export function midpoint(p: FloorPoint, q: FloorPoint): FloorPoint {
  return [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
}

export function distance(p: readonly [number, number], q: readonly [number, number]): number {
  return Math.hypot(q[0] - p[0], q[1] - p[1]);
}
