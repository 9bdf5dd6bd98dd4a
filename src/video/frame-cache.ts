// Frame tables kept for the next time.

import type { FrameIndex } from "./frame-index";
import { type Kept, keepBytes, keptBytes, type Shelf } from "./kept";

/** An hour at 50 frames a second takes 1.4 MB. */
function shelf(folder: string): Shelf {
  return { folder, ending: "frames", mark: "boutline frames 1\n", most: 100 };
}

// Numbers as Float64, little endian: first, keyFrames, longestGop, times.
const numbersBefore = 3;

export async function keptTable(cacheDir: string, kept: Kept): Promise<FrameIndex | undefined> {
  const bytes = await keptBytes(shelf(cacheDir), kept);
  if (bytes === undefined || bytes.length <= numbersBefore * 8) return undefined;
  const number = (index: number) => bytes.readDoubleLE(index * 8);
  const times = new Float64Array(Math.floor(bytes.length / 8) - numbersBefore);
  for (let index = 0; index < times.length; index++) times[index] = number(numbersBefore + index);
  return { first: number(0), keyFrames: number(1), longestGop: number(2), times };
}

export async function keepTable(cacheDir: string, kept: Kept, index: FrameIndex): Promise<void> {
  const bytes = Buffer.alloc((numbersBefore + index.times.length) * 8);
  [index.first, index.keyFrames, index.longestGop].forEach((number, at) =>
    bytes.writeDoubleLE(number, at * 8),
  );
  index.times.forEach((time, at) => bytes.writeDoubleLE(time, (numbersBefore + at) * 8));
  await keepBytes(shelf(cacheDir), kept, bytes);
}
