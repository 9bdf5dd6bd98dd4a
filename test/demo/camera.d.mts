/** See camera.mjs: the frame's size in pixels, and the floor's image as fractions of it. */
export const width: number;
export const height: number;
export function floorToImage(point: readonly [number, number]): [number, number];
