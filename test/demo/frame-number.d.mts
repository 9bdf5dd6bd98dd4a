/** The number in a frame of RGBA pixels, or null where it can't be read; see frame-number.mjs. */
export function readFrameNumber(pixels: Uint8Array, width: number, height: number): number | null;
