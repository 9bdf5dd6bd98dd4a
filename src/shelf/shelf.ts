// What stands on the shelf? A row for each bout file under some folders, those read that have changed since the last time.

import { statSync } from "node:fs";
import path from "node:path";
import { remember, remembered } from "./cache";
import { boutFileEnding, byText, lookThrough, type BoutFile, type LeftOut } from "./find";
import { Pool } from "./pool";
import { quickRow } from "./quick-row";
import { editionState, isThere, notLookedAt, readRow } from "./read-file";
import type { BoutRow, ShelfRow } from "./row";
import { thoroughRow } from "./thorough-row";

export interface ShelfOptions {
  readonly folders: readonly string[];
  /** The script of the reading thread; undefined reads in this one. */
  readonly worker?: string | undefined;
  /** Where rows are kept for the next time; undefined keeps none. */
  readonly cache?: { readonly file: string; readonly version: string } | undefined;
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
  readonly signal?: AbortSignal | undefined;
  /** Seconds a thread may take over one file; see `pool.ts`. */
  readonly patience?: number | undefined;
}

/** Fewer files than this are read at once, since starting a thread takes longer. */
const few = 8;

export class Shelf {
  readonly #options: ShelfOptions;
  #rows: readonly ShelfRow[] = [];
  #leftOut: readonly LeftOut[] = [];
  #known: Promise<void> | undefined;
  #busy: Promise<unknown> = Promise.resolve();

  constructor(options: ShelfOptions) {
    this.#options = options;
  }

  /** In the order of their paths. */
  get rows(): readonly ShelfRow[] {
    return this.#rows;
  }

  get bouts(): readonly BoutRow[] {
    return this.rows.filter((row) => row.is === "bout");
  }

  /** What was not looked into, and why. */
  get leftOut(): readonly LeftOut[] {
    return this.#leftOut;
  }

  /** The rows kept from an earlier run, before anything is looked at: what has changed since shows with `refresh`. */
  recall(): Promise<void> {
    return this.#inTurn(() => this.#recall());
  }

  /** Looks through the folders and reads what has changed. Answers how many files were read. */
  refresh(): Promise<number> {
    return this.#inTurn(() => this.#refresh());
  }

  /** Reads these files again, of which somebody says that they have changed, come or gone. */
  changed(files: readonly string[]): Promise<number> {
    return this.#inTurn(async () => {
      const wanted = files.filter((file) => file.endsWith(boutFileEnding));
      const rows = new Map(this.#rows.map((row) => [row.file, row]));
      const there = new Set(wanted.filter(isThere));
      for (const file of wanted) if (!there.has(file)) rows.delete(file);
      const stale = [...there].filter((file) => !isCurrent(rows.get(file)));
      const reader = this.#reader();
      reader.give(stale.map((file) => ({ file, ...notLookedAt })));
      for (const row of await reader.rows()) rows.set(row.file, row);
      this.#rows = inOrder([...rows.values()]);
      return stale.length;
    });
  }

  /** Writes the rows for the next time. */
  async save(): Promise<void> {
    const { cache } = this.#options;
    if (cache === undefined) return;
    await this.#inTurn(() => remember(cache.file, cache.version, this.rows));
  }

  /** One after another, so that no older answer comes after a newer one. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#busy.then(work);
    this.#busy = turn.catch(() => undefined);
    return turn;
  }

  /** Files are read while others are still looked for. */
  async #refresh(): Promise<number> {
    await this.#recall();
    const before = this.#rows;
    const editions = new Map<string, string>();
    const [kept, others]: [ShelfRow[], ShelfRow[]] = [[], []];
    const reader = this.#reader();
    let read = 0;
    const looking = lookThrough(this.#options.folders, byFolder(before), ({ same, files, hasFile }) => {
      const stale = [...files];
      for (const row of same) {
        const now = withRecordings(row, hasFile);
        if (!hasSameEdition(row, editions)) stale.push(aboutFile(row));
        else if (now === row) kept.push(row);
        else others.push(now);
      }
      read += stale.length;
      reader.give(stale);
    });
    // The threads end even where looking comes to grief.
    const leftOut = await looking.finally(async () => {
      for (const row of await reader.rows()) others.push(row);
    });
    if (others.length > 0 || kept.length < before.length) {
      const stay = new Set(kept);
      this.#rows = inOrder([...before.filter((row) => stay.has(row)), ...others]);
    }
    this.#leftOut = leftOut;
    return read;
  }

  #recall(): Promise<void> {
    const { cache } = this.#options;
    this.#known ??= (async () => {
      if (cache !== undefined) this.#rows = await remembered(cache.file, cache.version);
    })();
    return this.#known;
  }

  /** Reads in threads as soon as there are more than a few. */
  #reader(): Pick<Pool, "give" | "rows"> {
    const { worker } = this.#options;
    if (worker === undefined) return new HereReader(Infinity, undefined);
    const { patience, onProgress, signal } = this.#options;
    return new HereReader(few, new Pool({ worker, patience, onProgress, signal }));
  }
}

/** In the order of their paths; quick where most of them are in it already. */
function inOrder(rows: ShelfRow[]): readonly ShelfRow[] {
  return rows.sort((one, other) => byText(one.file, other.file));
}

/** By the folders they are in, each folder's in the order they have here. */
function byFolder(rows: readonly ShelfRow[]): ReadonlyMap<string, readonly ShelfRow[]> {
  const folders = new Map<string, ShelfRow[]>();
  let [folder, here]: [string | undefined, ShelfRow[]] = [undefined, []];
  for (const row of rows) {
    // Most are in the folder of the one before.
    if (folder?.length !== row.file.lastIndexOf(path.sep) || !row.file.startsWith(folder)) {
      folder = path.dirname(row.file);
      here = folders.get(folder) ?? [];
      folders.set(folder, here);
    }
    here.push(row);
  }
  return folders;
}

function aboutFile({ file, size, modified }: BoutFile): BoutFile {
  return { file, size, modified };
}

/** Keeps files until they are more than a few, which are then read by the pool; a few are read in this thread. */
class HereReader {
  readonly #few: number;
  readonly #pool: Pool | undefined;
  #files: BoutFile[] = [];
  #inPool = false;

  constructor(few: number, pool: Pool | undefined) {
    this.#few = few;
    this.#pool = pool;
  }

  give(files: readonly BoutFile[]): void {
    if (!this.#inPool) {
      this.#files.push(...files);
      if (this.#files.length < this.#few) return;
      this.#inPool = true;
      files = this.#files;
      this.#files = [];
    }
    this.#pool?.give(files);
  }

  async rows(): Promise<readonly ShelfRow[]> {
    if (this.#inPool && this.#pool !== undefined) return this.#pool.rows();
    return this.#files.map((file) =>
      readRow(
        file,
        (about, text, around) => quickRow(about, text, around) ?? thoroughRow(about, text, around),
      ),
    );
  }
}

function isCurrent(row: ShelfRow | undefined): boolean {
  if (row === undefined) return false;
  const about = statSync(row.file, { throwIfNoEntry: false });
  return about?.size === row.size && about.mtimeMs === row.modified && hasSameEdition(row, new Map());
}

/** Each edition file is looked at once, however many bouts are counted by it. */
function hasSameEdition(row: ShelfRow, looked: Map<string, string>): boolean {
  if (row.is !== "bout" || row.editionFile === undefined) return true;
  const { file, size, modified } = row.editionFile;
  let now = looked.get(file);
  if (now === undefined) {
    const state = editionState(file);
    now = `${state.size} ${state.modified}`;
    looked.set(file, now);
  }
  return now === `${size} ${modified}`;
}

/** A recording comes and goes without its bout file changing. `hasFile` knows the names of the files beside it; what it
 * does not know by that name may still be there, as a link, in another folder, or in another case. */
function withRecordings(row: ShelfRow, hasFile: (name: string) => boolean): ShelfRow {
  if (row.is !== "bout" || row.recordings.length === 0) return row;
  const folder = path.dirname(row.file);
  const isPresent = (file: string) => hasFile(file) || isThere(path.join(folder, file));
  if (row.recordings.every(({ file, present }) => present === isPresent(file))) return row;
  return { ...row, recordings: row.recordings.map(({ file }) => ({ file, present: isPresent(file) })) };
}
