// What was worked out of a recording, kept for the next time, a file each. One that is damaged or of another version
// counts as missing.

import { createHash, randomBytes } from "node:crypto";
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import path from "node:path";

/** The state of the file something is of; any change makes another. */
export interface Kept {
  /** Full path. */
  readonly file: string;
  /** Bytes. */
  readonly size: number;
  /** Milliseconds since 1970. */
  readonly modified: number;
}

export interface Shelf {
  /** Folder, made if missing. */
  readonly folder: string;
  /** Ending of the files, without the dot. */
  readonly ending: string;
  /** What a file begins with, 24 characters: of which version it is. */
  readonly mark: string;
  /** How many are kept; those made first go first. */
  readonly most: number;
}

// Layout: the mark, SHA-256 of the rest, the rest.
const markBytes = 24;
const sumBytes = 32;

export async function keptBytes(shelf: Shelf, kept: Kept): Promise<Buffer | undefined> {
  let bytes: Buffer;
  try {
    bytes = await readFile(placeOf(shelf, kept));
  } catch {
    return undefined;
  }
  const rest = bytes.subarray(markBytes + sumBytes);
  const whole =
    bytes.subarray(0, markBytes).equals(markOf(shelf)) &&
    bytes.subarray(markBytes, markBytes + sumBytes).equals(sumOf(rest));
  return whole ? rest : undefined;
}

/** What can't be written is only slower next time, so that is no error. */
export async function keepBytes(shelf: Shelf, kept: Kept, bytes: Buffer): Promise<void> {
  const place = placeOf(shelf, kept);
  const part = `${place}.${randomBytes(4).toString("hex")}.part`;
  try {
    await mkdir(shelf.folder, { recursive: true });
    await writeFile(part, Buffer.concat([markOf(shelf), sumOf(bytes), bytes]));
    await rename(part, place);
    await removeOldest(shelf);
  } catch {
    await rm(part, { force: true }).catch(() => undefined);
  }
}

function placeOf({ folder, ending }: Shelf, { file, size, modified }: Kept): string {
  const name = createHash("sha256")
    .update(JSON.stringify([file, size, modified]))
    .digest("hex");
  return path.join(folder, `${name.slice(0, 32)}.${ending}`);
}

function markOf({ mark }: Shelf): Buffer {
  return Buffer.from(mark.padEnd(markBytes, "\0"));
}

function sumOf(bytes: Buffer): Buffer {
  return createHash("sha256").update(bytes).digest();
}

/** Those of recordings that have changed or gone are never asked for again. */
async function removeOldest({ folder, ending, most }: Shelf): Promise<void> {
  const names = (await readdir(folder)).filter((name) => name.endsWith(`.${ending}`));
  if (names.length <= most) return;
  const dated = await Promise.all(
    names.map(async (name) => ({ name, made: (await stat(path.join(folder, name))).mtimeMs })),
  );
  dated.sort((a, b) => a.made - b.made);
  for (const { name } of dated.slice(0, names.length - most))
    await rm(path.join(folder, name), { force: true });
}
