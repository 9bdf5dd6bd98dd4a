// Bout files on their way into a table: each under a name of its own, read and counted, or a plain reason why not.

import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import type { TableSource } from "../figures";
import type { Study } from "../rules";
import { studyOfFile } from "./study";
import { readText } from "./text";

export interface NamedBout extends TableSource {
  /** Full path. */
  readonly path: string;
}

/** Files named from the folder they have in common, so that a table says nothing of the machine it was made on. */
export function namedBouts(files: readonly string[]): readonly NamedBout[] {
  const [first, ...others] = files;
  if (first === undefined) return [];
  const common = path.dirname(first).split(path.sep);
  for (const other of others) {
    const folders = path.dirname(other).split(path.sep);
    let same = 0;
    while (same < common.length && common[same] === folders[same]) same++;
    common.length = same;
  }
  const skipped = common.join(path.sep).length + (common.at(-1) === "" ? 0 : 1);
  const named = files.map((full) => ({ path: full, file: full.slice(skipped).split(path.sep).join("/") }));
  const short = named.map(({ file }) => file.replace(/(\.bout)?\.json$/i, ""));
  const times = new Map<string, number>();
  for (const name of short) times.set(name, (times.get(name) ?? 0) + 1);
  return named.map((one, index) => {
    const name = short[index] ?? one.file;
    return { ...one, bout: times.get(name) === 1 ? name : one.file };
  });
}

/** The failure says why, in words that follow the file's name. */
export async function studyAt(file: string): Promise<Result<Study, string>> {
  const text = await readText(file);
  return text.ok ? studyOfText(file, text.value) : text;
}

/** The same of a text that was read already. */
export async function studyOfText(file: string, text: string): Promise<Result<Study, string>> {
  const { reading, study } = await studyOfFile(file, text);
  const { bout, scan, problems } = reading;
  if (bout === undefined || scan.broken) {
    const worst = problems.find(({ severity }) => severity === "error");
    return failure(
      `this can't be read as a bout file${worst === undefined ? "" : ` (line ${worst.place.line}: ${worst.message})`}`,
    );
  }
  return study === undefined ? failure("this can't be read as a bout file") : success(study);
}
