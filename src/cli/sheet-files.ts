// The files beside a sheet: the meanings of the coach's own tags, and the tables written for spreadsheets.

import { existsSync } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import { csvText, readTagDefinitions, type Table, type TagDefinitions } from "../figures";
import { readText } from "./files";

/** From `tags.json` beside the bout file; none where there is no such file. */
export async function tagDefinitionsFor(file: string): Promise<Result<TagDefinitions, string>> {
  const beside = path.join(path.dirname(file), "tags.json");
  if (!existsSync(beside)) return success({});
  const text = await readText(beside);
  const read = text.ok ? readTagDefinitions(text.value) : text;
  return read.ok ? read : failure(`${beside}: ${read.problem}`);
}

/** Writes `NAME.csv` for each table. Without `force` nothing is written where one of them is there already. */
export async function writeTables(
  folder: string,
  tables: readonly Table[],
  force: boolean,
): Promise<Result<null, string>> {
  const files = tables.map((table) => ({
    file: path.join(folder, `${table.name}.csv`),
    text: csvText(table),
  }));
  const there = force ? undefined : files.find(({ file }) => existsSync(file));
  if (there !== undefined) return failure(`${there.file} is there already; --force writes over it`);
  try {
    await mkdir(folder, { recursive: true });
    for (const { file, text } of files) await writeFile(file, text, { flag: force ? "w" : "wx" });
  } catch (error) {
    return failure(`${folder} can't be written (${error instanceof Error ? error.message : String(error)})`);
  }
  return success(null);
}
