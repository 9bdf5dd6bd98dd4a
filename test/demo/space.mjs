// Arithmetic of points and directions in space, as [x, y, z] in metres.

export const add = (a, b, times = 1) => [a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]];
export const minus = (a, b) => add(a, b, -1);
export const scaled = (a, factor) => [a[0] * factor, a[1] * factor, a[2] * factor];
export const long = (a) => Math.hypot(a[0], a[1], a[2]);
export const unit = (a) => scaled(a, 1 / (long(a) || 1));
export const between = (a, b, share) => add(a, minus(b, a), share);
export const up = [0, 0, 1];
export const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Turned by `yaw` about the vertical (counter-clockwise from above) and raised by `pitch`, both in degrees. */
export function turned(direction, yaw, pitch) {
  const flat = Math.hypot(direction[0], direction[1]);
  const heading = Math.atan2(direction[1], direction[0]) + (yaw * Math.PI) / 180;
  const rise = Math.atan2(direction[2], flat) + (pitch * Math.PI) / 180;
  return [Math.cos(rise) * Math.cos(heading), Math.cos(rise) * Math.sin(heading), Math.sin(rise)];
}

/** Where the elbow or knee is: two bones of lengths `first` and `second` from `from` to `to`, bent towards `hint`. */
export function joint(from, to, first, second, hint) {
  const line = minus(to, from);
  const distance = Math.min(long(line), (first + second) * 0.999);
  const direction = unit(line);
  const along = (first * first - second * second + distance * distance) / (2 * distance || 1);
  const height = Math.sqrt(Math.max(0, first * first - along * along));
  const away = unit(minus(hint, scaled(direction, dot(hint, direction))));
  return add(add(from, direction, along), away, height);
}
