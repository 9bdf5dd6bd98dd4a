// Bouts as files that other people's tools read. All is made in a folder of its own beside its place and moved there when
// it is whole: a full disk, a wrong file or an interruption leaves what was there before.

import { closeSync, existsSync, fsyncSync, openSync, writeFileSync } from "node:fs";
import { mkdir, readdir, rename, rm } from "node:fs/promises";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import { phraseTable, pickedPhrases, type Pick } from "../figures";
import type { NamedBout } from "./bouts";
import { ledgerAt } from "./ledger-at";
import { subRip, webVtt } from "./calls";
import { csvHead, csvLine } from "./csv";
import { columnsPage, contentsPage } from "./export-pages";
import { ParquetFolder } from "./parquet";
import type { Pseudonyms } from "./pseudonyms";

export const exportFormats = ["csv", "jsonl", "parquet", "vtt", "srt"] as const;
export type ExportFormat = (typeof exportFormats)[number];

export interface ExportOptions {
  readonly folder: string;
  readonly formats: readonly ExportFormat[];
  readonly force: boolean;
  readonly pseudonyms?: Pseudonyms | undefined;
  /** Only these phrases; the calls of subtitles are always whole. */
  readonly pick?: Pick | undefined;
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((done: number) => void) | undefined;
}

export interface Exported {
  readonly bouts: number;
  readonly phrases: number;
  readonly leftOut: readonly { readonly file: string; readonly message: string }[];
  /** What now stands in the folder. */
  readonly items: readonly string[];
}

/** The failure says what is in the way and that nothing was changed. `leftOutBefore` counts what was not even found. */
export async function exportBouts(
  bouts: readonly NamedBout[],
  options: ExportOptions,
  leftOutBefore = 0,
): Promise<Result<Exported, string>> {
  const items = itemsOf(options.formats);
  const inTheWay = await obstacle(options, items);
  if (inTheWay !== undefined) return failure(inTheWay);
  const staging = path.join(options.folder, `.boutline-${process.pid}.part`);
  try {
    await mkdir(staging, { recursive: true });
    const made = await fill(staging, bouts, options, items, leftOutBefore);
    if (options.signal?.aborted === true) return failure("stopped; nothing was changed");
    if (made.bouts === 0)
      return failure(
        [
          "none of the files could be read; nothing was written",
          ...made.leftOut.map(({ file, message }) => `${file}: ${message}`),
        ].join("; "),
      );
    await moveIn(staging, options.folder, items);
    return success(made);
  } catch (error) {
    if (!isOfTheDisk(error)) throw error;
    return failure(`${options.folder} can't be written (${error.message}); what was there is as it was`);
  } finally {
    await rm(staging, { recursive: true, force: true }).catch(() => undefined);
  }
}

function itemsOf(formats: readonly ExportFormat[]): readonly string[] {
  const has = (format: ExportFormat) => formats.includes(format);
  return [
    ...(has("csv") ? ["phrases.csv"] : []),
    ...(has("jsonl") ? ["phrases.jsonl"] : []),
    ...(has("parquet") ? ["phrases"] : []),
    ...(has("vtt") || has("srt") ? ["calls"] : []),
    "columns.md",
    "CONTENTS.md",
  ];
}

/** Why the export can't have its place. A folder is written over only where all in it comes from an export. */
async function obstacle(
  { folder, force }: ExportOptions,
  items: readonly string[],
): Promise<string | undefined> {
  for (const item of items) {
    const place = path.join(folder, item);
    if (!existsSync(place)) continue;
    if (!force) return `${place} is there already; --force writes over it`;
    if (item !== "phrases" && item !== "calls") continue;
    const ours = item === "phrases" ? /^(season=.+|weapon=.+|part-\d+\.parquet)$/ : /\.(vtt|srt)$/;
    const inside = await readdir(place, { recursive: true, withFileTypes: true }).catch(() => []);
    const other = inside.find(
      (entry) => !ours.test(entry.name) && !(item === "calls" && entry.isDirectory()),
    );
    if (other !== undefined)
      return `${path.join(other.parentPath, other.name)} comes from no export; move it away first, or export to another folder`;
  }
  return undefined;
}

async function fill(
  staging: string,
  bouts: readonly NamedBout[],
  { formats, pseudonyms, pick, signal, onProgress }: ExportOptions,
  items: readonly string[],
  leftOutBefore: number,
): Promise<Exported> {
  const writers = writersOf(staging, formats);
  const leftOut: { file: string; message: string }[] = [];
  let [files, phrases] = [0, 0];
  try {
    for (const [index, bout] of bouts.entries()) {
      if (signal?.aborted === true) break;
      const read = await ledgerAt(bout.path);
      onProgress?.(index + 1);
      if (!read.ok) {
        leftOut.push({ file: bout.path, message: read.problem });
        continue;
      }
      const ledger = read.value;
      const named = { ...bout, ...pseudonyms?.bout(bout) };
      const picked = pick === undefined ? undefined : new Set(pickedPhrases(ledger, pick).entries);
      const rows = phraseTable(ledger, named)
        .filter(({ entry }) => picked?.has(Number(entry)) ?? true)
        .map((row) => pseudonyms?.row(row) ?? row);
      files++;
      phrases += rows.length;
      writers.csv?.write(rows.map(csvLine).join(""));
      writers.jsonl?.write(rows.map((row) => `${JSON.stringify(row)}\n`).join(""));
      writers.parquet?.add(rows);
      if (formats.includes("vtt")) await writeCalls(staging, `${named.bout}.vtt`, webVtt(ledger));
      if (formats.includes("srt")) await writeCalls(staging, `${named.bout}.srt`, subRip(ledger));
    }
    writers.csv?.finish();
    writers.jsonl?.finish();
    writers.parquet?.finish();
  } finally {
    for (const writer of Object.values(writers)) writer?.close();
  }
  const written = items.filter((item) => item.endsWith(".md") || existsSync(path.join(staging, item)));
  const all = { bouts: files, phrases, leftOut, items: written };
  writeFileSync(path.join(staging, "columns.md"), columnsPage());
  writeFileSync(
    path.join(staging, "CONTENTS.md"),
    contentsPage({ ...all, leftOut: leftOut.length + leftOutBefore, pseudonyms: pseudonyms !== undefined }),
  );
  return all;
}

function writersOf(staging: string, formats: readonly ExportFormat[]) {
  const has = (format: ExportFormat) => formats.includes(format);
  return {
    csv: has("csv") ? new TextFile(path.join(staging, "phrases.csv"), csvHead) : undefined,
    jsonl: has("jsonl") ? new TextFile(path.join(staging, "phrases.jsonl"), "") : undefined,
    parquet: has("parquet") ? new ParquetFolder(path.join(staging, "phrases")) : undefined,
  };
}

/** A file written piece by piece. */
class TextFile {
  readonly #file: number;
  #open = true;

  constructor(file: string, head: string) {
    this.#file = openSync(file, "wx");
    this.write(head);
  }

  write(text: string): void {
    writeFileSync(this.#file, text);
  }

  /** Once all has reached the disk. */
  finish(): void {
    fsyncSync(this.#file);
    this.close();
  }

  close(): void {
    if (this.#open) closeSync(this.#file);
    this.#open = false;
  }
}

async function writeCalls(staging: string, name: string, text: string): Promise<void> {
  const file = path.join(staging, "calls", ...name.split("/"));
  await mkdir(path.dirname(file), { recursive: true });
  writeFileSync(file, text, { flag: "wx" });
}

/** Each item takes its place by renaming; where one can't, those before it go back and the old ones return. What this
 * export replaces but has no more of, such as a folder of parts without a row, goes too. */
async function moveIn(staging: string, folder: string, items: readonly string[]): Promise<void> {
  const old = path.join(staging, "old");
  await mkdir(old);
  const undo: (() => Promise<void>)[] = [];
  try {
    for (const item of items) {
      const [made, place, kept] = [path.join(staging, item), path.join(folder, item), path.join(old, item)];
      if (existsSync(place)) {
        await rename(place, kept);
        undo.push(() => rename(kept, place));
      }
      if (!existsSync(made)) continue;
      await rename(made, place);
      undo.push(() => rename(place, made));
    }
  } catch (error) {
    for (const step of undo.reverse()) await step();
    throw error;
  }
}

function isOfTheDisk(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && "code" in error && "syscall" in error;
}
