// One bout file from the disk to its row. Done in one go without waiting, since it runs in a thread of its own.

import { createHash } from "node:crypto";
import { closeSync, constants, fstatSync, openSync, readFileSync, readSync, statSync } from "node:fs";
import path from "node:path";
import type { EditionFile } from "../rules";
import { reasonOf, type BoutFile } from "./find";
import { rowOf, type EditionState, type ShelfRow } from "./row";

/** Bytes. Far more than any bout file: an hour tagged entry by entry is below 1 MB. */
const largest = 64 * 1024 * 1024;

/** How often a file that changes while it is read is read again. */
const tries = 4;

/** Without waiting for a writer, as opening a named pipe would for ever; Windows knows no such flag. */
const reading = constants.O_RDONLY | ((constants.O_NONBLOCK as number | undefined) ?? 0);

export function readRow(file: string): ShelfRow {
  const got = bytesOf(file);
  if ("problem" in got) return { is: "unreadable", file, ...got };
  const { bytes, size, modified } = got;
  let text: string;
  try {
    // The mark at the start stays in, as in the editor, so that places in the text agree.
    text = decoder.decode(bytes);
  } catch {
    return { is: "unreadable", file, size, modified, problem: "this is not UTF-8 text" };
  }
  const folder = path.dirname(file);
  return rowOf({ file, size, modified }, text, {
    hash: createHash("sha256").update(bytes).digest("hex"),
    edition: (name) => editionBeside(path.join(folder, name)),
    isPresent: (recording) => isThere(path.join(folder, recording)),
  });
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
  return { file, size: -1, modified: 0 };
}

type Bytes = Omit<BoutFile, "file"> & ({ readonly bytes: Buffer } | { readonly problem: string });

/** A file whose size or time of change is another after reading is read again: half of it may be of before. */
function bytesOf(file: string): Bytes {
  let handle: number;
  try {
    handle = openSync(file, reading);
  } catch (error) {
    return { ...unknown, problem: reasonOf(error) };
  }
  try {
    let about = fstatSync(handle);
    for (let attempt = 0; attempt < tries; attempt++) {
      const { size, mtimeMs: modified } = about;
      if (!about.isFile()) return { size, modified, problem: "this is not a regular file" };
      if (size > largest) return { size, modified, problem: "this is too large for a bout file" };
      const bytes = Buffer.allocUnsafe(size);
      let got = 0;
      while (got < size) {
        const more = readSync(handle, bytes, got, size - got, got);
        if (more === 0) break;
        got += more;
      }
      about = fstatSync(handle);
      if (got === size && about.size === size && about.mtimeMs === modified) return { size, modified, bytes };
    }
    return {
      ...unknown,
      problem: "this keeps changing while it is read; it is read again at its next change",
    };
  } catch (error) {
    return { ...unknown, problem: reasonOf(error) };
  } finally {
    closeSync(handle);
  }
}
/** Of no file there is, so that it is tried again the next time. */
const unknown = { size: -1, modified: 0 };

function editionBeside(file: string): { state: EditionState; file: EditionFile | undefined } {
  const state = editionState(file);
  if (state.size < 0 || state.size > largest) return { state, file: undefined };
  try {
    return { state, file: { file: path.basename(file), text: readFileSync(file, "utf8") } };
  } catch {
    return { state, file: undefined };
  }
}
