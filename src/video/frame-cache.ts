// Frame tables kept for the next time, a file each. One that is damaged or of another version counts as missing.

import { createHash, randomBytes } from "node:crypto";
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import path from "node:path";
import type { FrameIndex } from "./frame-index";

/** The state of the file a table is of; any change makes another table. */
export interface Kept {
  /** Full path. */
  readonly file: string;
  /** Bytes. */
  readonly size: number;
  /** Milliseconds since 1970. */
  readonly modified: number;
}

// Layout: this mark, SHA-256 of the rest, then numbers as Float64, little endian: first, keyFrames, longestGop, times.
const mark = Buffer.from("boutline frames 1\n\0\0\0\0\0\0");
const sumBytes = 32;
const numbersBefore = 3;
/** An hour at 50 frames a second takes 1.4 MB. */
const mostTables = 100;

export async function keptTable(cacheDir: string, kept: Kept): Promise<FrameIndex | undefined> {
  let bytes: Buffer;
  try {
    bytes = await readFile(placeOf(cacheDir, kept));
  } catch {
    return undefined;
  }
  const rest = bytes.subarray(mark.length + sumBytes);
  const whole =
    bytes.subarray(0, mark.length).equals(mark) &&
    bytes.subarray(mark.length, mark.length + sumBytes).equals(sumOf(rest)) &&
    rest.length > numbersBefore * 8;
  if (!whole) return undefined;
  const number = (index: number) => rest.readDoubleLE(index * 8);
  return {
    first: number(0),
    keyFrames: number(1),
    longestGop: number(2),
    times: Float64Array.from({ length: rest.length / 8 - numbersBefore }, (_, index) =>
      number(numbersBefore + index),
    ),
  };
}

/** A table that can't be written is only slower next time, so that is no error. */
export async function keepTable(cacheDir: string, kept: Kept, index: FrameIndex): Promise<void> {
  const numbers = [index.first, index.keyFrames, index.longestGop, ...index.times];
  const rest = Buffer.alloc(numbers.length * 8);
  numbers.forEach((number, at) => rest.writeDoubleLE(number, at * 8));
  const place = placeOf(cacheDir, kept);
  const part = `${place}.${randomBytes(4).toString("hex")}.part`;
  try {
    await mkdir(cacheDir, { recursive: true });
    await writeFile(part, Buffer.concat([mark, sumOf(rest), rest]));
    await rename(part, place);
    await removeOldest(cacheDir);
  } catch {
    await rm(part, { force: true }).catch(() => undefined);
  }
}

function placeOf(cacheDir: string, { file, size, modified }: Kept): string {
  const name = createHash("sha256")
    .update(JSON.stringify([file, size, modified]))
    .digest("hex");
  return path.join(cacheDir, `${name.slice(0, 32)}.frames`);
}

function sumOf(bytes: Buffer): Buffer {
  return createHash("sha256").update(bytes).digest();
}

/** Tables of recordings that have changed or gone are never asked for again. */
async function removeOldest(cacheDir: string): Promise<void> {
  const names = (await readdir(cacheDir)).filter((name) => name.endsWith(".frames"));
  if (names.length <= mostTables) return;
  const dated = await Promise.all(
    names.map(async (name) => ({ name, made: (await stat(path.join(cacheDir, name))).mtimeMs })),
  );
  dated.sort((a, b) => a.made - b.made);
  for (const { name } of dated.slice(0, names.length - mostTables))
    await rm(path.join(cacheDir, name), { force: true });
}
