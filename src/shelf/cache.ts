// The rows of an earlier run, in one file that may be thrown away at any time. One that is damaged, or of another version
// of Boutline, counts as missing.

import { randomBytes } from "node:crypto";
import { mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { deserialize, serialize } from "node:v8";
import { packedRows, unpackedRows, type PackedRows } from "./packed-rows";
import type { ShelfRow } from "./row";

/** Raised by a change of what a row holds or means. */
const schema = 4;

/** Throws nothing: rows that can't be had are read afresh. */
export async function remembered(file: string, version: string): Promise<readonly ShelfRow[]> {
  try {
    const bytes = await readFile(file);
    // The first line alone says whether the rest is worth decoding.
    const mark = Buffer.from(markOf(version));
    if (!bytes.subarray(0, mark.length).equals(mark)) return [];
    return unpackedRows(deserialize(bytes.subarray(mark.length)) as PackedRows);
  } catch {
    return [];
  }
}

/** What can't be written is only slower next time, so that is no error. */
export async function remember(file: string, version: string, rows: readonly ShelfRow[]): Promise<void> {
  const part = `${file}.${randomBytes(4).toString("hex")}.part`;
  try {
    await mkdir(path.dirname(file), { recursive: true });
    await writeFile(part, Buffer.concat([Buffer.from(markOf(version)), serialize(packedRows(rows))]));
    await rename(part, file);
  } catch {
    await rm(part, { force: true }).catch(() => undefined);
  }
}

function markOf(version: string): string {
  return `${JSON.stringify({ "boutline shelf": schema, version })}\n`;
}
