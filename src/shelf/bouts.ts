// Bout files on their way into a table: each under a name of its own, read and counted, or a plain reason why not.

import { constants } from "node:fs";
import { open } from "node:fs/promises";
import path from "node:path";
import { readBout } from "../bout/read";
import { failure, success, type Result } from "../bout/result";
import { editionFileOf, studyOf, type Study } from "../rules";
import type { TableSource } from "../figures";

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

/** Bytes. Far more than any bout file: an hour tagged entry by entry is below 1 MB. */
const largest = 64 * 1024 * 1024;
/** Without waiting for a writer, as opening a named pipe would for ever; Windows knows no such flag. */
const reading = constants.O_RDONLY | ((constants.O_NONBLOCK as number | undefined) ?? 0);

/** The failure says why, in words that follow the file's name. */
export async function studyAt(file: string): Promise<Result<Study, string>> {
  const text = await textAt(file);
  if (!text.ok) return text;
  const read = readBout(text.value);
  const { bout, scan, problems } = read;
  if (bout === undefined || scan.broken) {
    const worst = problems.find(({ severity }) => severity === "error");
    return failure(
      `this can't be read as a bout file${worst === undefined ? "" : ` (line ${worst.place.line}: ${worst.message})`}`,
    );
  }
  const name = editionFileOf(bout);
  const beside = name === undefined ? undefined : await textAt(path.join(path.dirname(file), name));
  const own = name !== undefined && beside?.ok === true ? { file: name, text: beside.value } : undefined;
  const study = studyOf(read, own);
  return study === undefined ? failure("this can't be read as a bout file") : success(study);
}

async function textAt(file: string): Promise<Result<string, string>> {
  try {
    const handle = await open(file, reading);
    try {
      const about = await handle.stat();
      if (!about.isFile()) return failure("this is not a regular file");
      if (about.size > largest) return failure("this is too large for a bout file");
      return success(utf8.decode(await handle.readFile()));
    } finally {
      await handle.close();
    }
  } catch (error) {
    if (error instanceof TypeError) return failure("this is not UTF-8 text");
    return failure(`this can't be read (${error instanceof Error ? error.message : String(error)})`);
  }
}
const utf8 = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
