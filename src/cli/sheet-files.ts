// The files beside a sheet: the meanings of the coach's own tags, and the tables written for spreadsheets.

import { existsSync } from "node:fs";
import { link, mkdir, rename, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import { csvText, readTagDefinitions, type Table, type TagDefinitions } from "../figures";
import { readText } from "../shelf/text";

/** From `tags.json` beside the bout file; none where there is no such file. */
export async function tagDefinitionsFor(file: string): Promise<Result<TagDefinitions, string>> {
  const beside = path.join(path.dirname(file), "tags.json");
  if (!existsSync(beside)) return success({});
  const text = await readText(beside);
  const read = text.ok ? readTagDefinitions(text.value) : text;
  return read.ok ? read : failure(`${beside}: ${read.problem}`);
}

/** A file to be written. */
export interface NewFile {
  readonly file: string;
  readonly text: string;
}

/** `NAME.csv` for each table. */
export function tableFiles(folder: string, tables: readonly Table[]): readonly NewFile[] {
  return tables.map((table) => ({ file: path.join(folder, `${table.name}.csv`), text: csvText(table) }));
}

/** Writes the files and the folders they stand in, each whole or not at all. Without `force` nothing is written where
 * one of them is there already. */
export async function writeFiles(files: readonly NewFile[], force: boolean): Promise<Result<null, string>> {
  const there = force ? undefined : files.find(({ file }) => existsSync(file));
  if (there !== undefined) return failure(`${there.file} is there already; --force writes over it`);
  for (const { file, text } of files) {
    const written = await writeWhole(file, text, force);
    if (!written.ok) return written;
  }
  return success(null);
}

/** Under another name first, so that nobody finds half a file. */
async function writeWhole(file: string, text: string, force: boolean): Promise<Result<null, string>> {
  const part = `${file}.${process.pid}.part`;
  try {
    await mkdir(path.dirname(file), { recursive: true });
    await writeFile(part, text, { flag: "wx" });
    // A link, unlike a renaming, never takes the place of a file that has come meanwhile.
    if (force) await rename(part, file);
    else await link(part, file).catch((error: unknown) => linkless(error, part, file));
    return success(null);
  } catch (error) {
    return failure(`${file} can't be written (${error instanceof Error ? error.message : String(error)})`);
  } finally {
    await rm(part, { force: true }).catch(() => undefined);
  }
}

/** Some disks know no links. */
async function linkless(error: unknown, part: string, file: string): Promise<void> {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  if (code === "EEXIST" || existsSync(file)) throw error;
  await rename(part, file);
}
