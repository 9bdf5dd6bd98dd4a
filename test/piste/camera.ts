// A pinhole camera beside a piste, as the truth that fits and poses are checked against.

import fc from "fast-check";
import type { Corners, FitPoint, FloorPoint, ImagePoint, Platforms } from "../../src/piste";

type Vector = readonly [number, number, number];

/** Where the camera stands and looks, in metres; `zoom` is its focal length in widths of the picture. */
export interface Camera {
  readonly at: Vector;
  readonly towards: Vector;
  readonly zoom: number;
  readonly roll: number;
}

/** A camera on the referee's side, at head height, that sees both platforms. */
export const usualCamera: Camera = { at: [0.4, -9, 2.2], towards: [0.1, 0.3, 0.5], zoom: 1.3, roll: 0.01 };

/** Numbers spread evenly, where fast-check's own doubles crowd around 0. */
export function between(low: number, high: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 10_000 }).map((part) => low + ((high - low) * part) / 10_000);
}

/** Any camera from which a coach might film, on either side of the piste. */
export const anyCamera: fc.Arbitrary<Camera> = fc
  .record({
    x: between(-3, 3),
    y: between(6, 13),
    height: between(1.2, 5),
    aim: between(-1, 1),
    zoom: between(0.7, 1.6),
    roll: between(-0.1, 0.1),
    opposite: fc.boolean(),
  })
  .map(({ x, y, height, aim, zoom, roll, opposite }) => ({
    at: [x, opposite ? y : -y, height],
    towards: [aim, 0, 0.4],
    zoom,
    roll,
  }));

/** The picture of a floor point, in fractions of a frame of 16 by 9. */
export function picture(camera: Camera, [x, y]: FloorPoint): ImagePoint {
  const ahead = unit(minus(camera.towards, camera.at));
  const level = unit(cross(ahead, [0, 0, 1]));
  const down = cross(ahead, level);
  const ray = minus([x, y, 0], camera.at);
  const right = dot(ray, level);
  const below = dot(ray, down);
  const c = Math.cos(camera.roll);
  const s = Math.sin(camera.roll);
  const scale = camera.zoom / dot(ray, ahead);
  return [0.5 + (c * right - s * below) * scale, 0.5 + ((s * right + c * below) * scale * 16) / 9];
}

/** Fit points at these places on the floor. */
export function clicked(camera: Camera, floor: readonly FloorPoint[]): readonly FitPoint[] {
  return floor.map((point) => ({ floor: point, image: picture(camera, point) }));
}

/** A frame on the floor: its centre, direction and gap, and how each platform (1 m long) is turned in it, in degrees. */
export interface Truth {
  readonly centre: FloorPoint;
  readonly direction: number;
  readonly gap: number;
  readonly twist: { readonly left: number; readonly right: number };
}

export interface FloorPlatforms {
  readonly left: readonly [inner: FloorPoint, outer: FloorPoint];
  readonly right: readonly [inner: FloorPoint, outer: FloorPoint];
}

/** The corners of two platforms whose centres lie `gap` + 1 m apart when neither is twisted. */
export function platformsAt({ centre, direction, gap, twist }: Truth): FloorPlatforms {
  const half = (gap + 1) / 2;
  const left = ahead(centre, direction, -half);
  const right = ahead(centre, direction, half);
  return {
    left: [ahead(left, direction + twist.left, 0.5), ahead(left, direction + twist.left, -0.5)],
    right: [ahead(right, direction + twist.right, -0.5), ahead(right, direction + twist.right, 0.5)],
  };
}

export function picturesOf(camera: Camera, { left, right }: FloorPlatforms): Platforms {
  const corners = ([inner, outer]: readonly [FloorPoint, FloorPoint]): Corners => [
    picture(camera, inner),
    picture(camera, outer),
  ];
  return { left: corners(left), right: corners(right) };
}

/** Any way the frame may stand on a piste. */
export const anyTruth: fc.Arbitrary<Truth> = fc.record({
  centre: fc.tuple(between(-1.5, 1.5), between(-0.5, 0.5)),
  direction: between(-25, 25),
  gap: between(0.5, 1.5),
  twist: fc.record({
    left: between(-15, 15),
    right: between(-15, 15),
  }),
});

function ahead([x, y]: FloorPoint, degrees: number, metres: number): FloorPoint {
  const angle = (degrees * Math.PI) / 180;
  return [x + metres * Math.cos(angle), y + metres * Math.sin(angle)];
}

function minus(a: Vector, b: Vector): Vector {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function unit(a: Vector): Vector {
  const length = Math.sqrt(dot(a, a));
  return [a[0] / length, a[1] / length, a[2] / length];
}
