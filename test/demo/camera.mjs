// The camera of the demo recording: a pinhole that stands on the referee's side and looks at the piste.
// Floor axes as in the bout file (metres, x to the right end, y away from the referee), z upwards.

export const width = 960;
export const height = 540;

const place = { x: 0, y: -6.4, z: 2.15 };
const pitch = (11 * Math.PI) / 180;
const focal = 1065;
/** Off the middle of the picture, which leaves room for the referee at the left. */
const centre = { x: 558, y: 262 };
const sine = Math.sin(pitch);
const cosine = Math.cos(pitch);

/** A point in space to pixels, with the pixels that a metre takes there. */
export function project([x, y, z]) {
  const across = x - place.x;
  const ahead = y - place.y;
  const above = z - place.z;
  const depth = ahead * cosine - above * sine;
  const up = ahead * sine + above * cosine;
  const scale = focal / depth;
  return { x: centre.x + across * scale, y: centre.y - up * scale, scale };
}

/** A point of the floor to fractions of the frame's width and height. */
export function floorToImage([x, y]) {
  const point = project([x, y, 0]);
  return [point.x / width, point.y / height];
}

/** The same as a 3 by 3 matrix by rows: (u, v, 1) is proportional to it times (x, y, 1). Follows from `project` with z = 0. */
export function floorToImageMatrix() {
  const depth = [0, cosine, -place.y * cosine + place.z * sine];
  const up = [0, sine, -place.y * sine - place.z * cosine];
  const across = [1, 0, -place.x];
  return [
    depth.map((d, i) => (centre.x * d + focal * across[i]) / width),
    depth.map((d, i) => (centre.y * d - focal * up[i]) / height),
    depth,
  ];
}
