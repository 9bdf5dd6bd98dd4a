// One bout file from the disk to its row. Done in one go without waiting, since it runs in a thread of its own.

import { closeSync, fstatSync, openSync, readFileSync, readSync, statSync } from "node:fs";
import path from "node:path";
import type { EditionFile } from "../rules";
import { bytesSeen } from "./bytes";
import { reasonOf, type BoutFile } from "./find";
import { largest, withoutWaiting } from "./opening";
import type { EditionState, FileText, ShelfRow, Surroundings } from "./row";

/** How often a file that changes while it is read is read again. */
const tries = 4;

/** Size and time of change of a file that nobody has looked at; no file has them. */
export const notLookedAt = { size: -1, modified: 0 };

/** The row of a file, as size and time of change were when somebody last looked. Undefined where its text is there and
 * `rowOf` has none for it. */
export function readRow<Row extends ShelfRow | undefined>(
  known: BoutFile,
  rowOf: (about: BoutFile, text: FileText, around: Surroundings) => Row,
): Row | ShelfRow {
  const { file } = known;
  const got = bytesOf(known);
  if ("problem" in got) return { is: "unreadable", file, ...got };
  const { bytes, size, modified } = got;
  const { sum, colons, plain } = bytesSeen(bytes, size);
  let text: string;
  try {
    // The mark at the start stays in, as in the editor, so that places in the text agree.
    text = plain ? bytes.toString("latin1", 0, size) : decoder.decode(bytes.subarray(0, size));
  } catch {
    return { is: "unreadable", file, size, modified, problem: "this is not UTF-8 text" };
  }
  const folder = path.dirname(file);
  return rowOf(
    { file, size, modified },
    { text, sum, colons },
    {
      edition: (name) => editionBeside(path.join(folder, name)),
      isPresent: (recording) => isThere(path.join(folder, recording)),
    },
  );
}
const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

/** Whether there is a file of this name; a folder is none. */
export function isThere(file: string): boolean {
  try {
    return statSync(file, { throwIfNoEntry: false })?.isFile() ?? false;
  } catch {
    return false;
  }
}

export function editionState(file: string): EditionState {
  try {
    const about = statSync(file, { throwIfNoEntry: false });
    if (about?.isFile() === true) return { file, size: about.size, modified: about.mtimeMs };
  } catch {
    // Not to be reached counts as not there.
  }
  return { file, ...notLookedAt };
}

/** `bytes` may be longer than the file. */
type Bytes = Omit<BoutFile, "file"> & ({ readonly bytes: Buffer } | { readonly problem: string });

/** Holds one file after another; a larger one gets a buffer of its own. */
const shared = Buffer.from(new ArrayBuffer(256 * 1024));

function bytesOf({ file, size, modified }: BoutFile): Bytes {
  let handle: number;
  try {
    handle = openSync(file, withoutWaiting);
  } catch (error) {
    return { ...notLookedAt, problem: reasonOf(error) };
  }
  try {
    // Still as it was when it was found: the usual case, with one look at the file the less.
    if (size >= 0 && size < shared.length && readInto(handle, shared, shared.length) === size) {
      const after = fstatSync(handle);
      if (after.size === size && after.mtimeMs === modified && after.isFile())
        return { size, modified, bytes: shared };
    }
    return whileItHolds(handle);
  } catch (error) {
    return { ...notLookedAt, problem: reasonOf(error) };
  } finally {
    closeSync(handle);
  }
}

/** A file whose size or time of change is another after reading is read again: half of it may be of before. */
function whileItHolds(handle: number): Bytes {
  let about = fstatSync(handle);
  for (let attempt = 0; attempt < tries; attempt++) {
    const { size, mtimeMs: modified } = about;
    if (!about.isFile()) return { size, modified, problem: "this is not a regular file" };
    if (size > largest) return { size, modified, problem: "this is too large for a bout file" };
    const bytes = size <= shared.length ? shared : Buffer.from(new ArrayBuffer(Math.ceil(size / 4) * 4));
    const got = readInto(handle, bytes, size);
    about = fstatSync(handle);
    if (got === size && about.size === size && about.mtimeMs === modified) return { size, modified, bytes };
  }
  return {
    ...notLookedAt,
    problem: "this keeps changing while it is read; it is read again at its next change",
  };
}

/** Bytes got: fewer than wanted where the file ends before. */
function readInto(handle: number, bytes: Buffer, wanted: number): number {
  let got = 0;
  while (got < wanted) {
    const more = readSync(handle, bytes, got, wanted - got, got);
    if (more === 0) break;
    got += more;
  }
  return got;
}

function editionBeside(file: string): { state: EditionState; file: EditionFile | undefined } {
  const state = editionState(file);
  if (state.size < 0 || state.size > largest) return { state, file: undefined };
  try {
    return { state, file: { file: path.basename(file), text: readFileSync(file, "utf8") } };
  } catch {
    return { state, file: undefined };
  }
}
