// The rows of an earlier run, in one file that may be thrown away at any time. One that is damaged, or of another version
// of Boutline, counts as missing.

import { randomBytes } from "node:crypto";
import { mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { packedRows, unpackedRows, type PackedRows } from "./packed-rows";
import type { ShelfRow } from "./row";

/** Raised by a change of what a row holds or means. */
const schema = 3;

/** Throws nothing: rows that can't be had are read afresh. */
export async function remembered(file: string, version: string): Promise<readonly ShelfRow[]> {
  try {
    const text = (await readFile(file)).toString();
    // The first line alone says whether the rest is worth reading.
    const end = text.indexOf("\n");
    if (text.slice(0, end) !== markOf(version)) return [];
    return unpackedRows(JSON.parse(text.slice(end + 1)) as PackedRows);
  } catch {
    return [];
  }
}

/** What can't be written is only slower next time, so that is no error. */
export async function remember(file: string, version: string, rows: readonly ShelfRow[]): Promise<void> {
  const part = `${file}.${randomBytes(4).toString("hex")}.part`;
  try {
    await mkdir(path.dirname(file), { recursive: true });
    await writeFile(part, `${markOf(version)}\n${JSON.stringify(packedRows(rows))}`);
    await rename(part, file);
  } catch {
    await rm(part, { force: true }).catch(() => undefined);
  }
}

function markOf(version: string): string {
  return JSON.stringify({ "boutline shelf": schema, version });
}
