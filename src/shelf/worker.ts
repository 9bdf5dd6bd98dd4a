// The thread that reads bout files: a list of files in, their rows out. What few files need is loaded with the first of them.

import { parentPort, workerData } from "node:worker_threads";
import type { BoutFile } from "./find";
import { quickRow } from "./quick-row";
import { readRow } from "./read-file";
import type { FileText, ShelfRow, Surroundings } from "./row";

/** How many files have been read, where the main thread sees it. */
const progress = new Int32Array(workerData as SharedArrayBuffer);

let thorough: ((about: BoutFile, text: FileText, around: Surroundings) => ShelfRow) | undefined;

const rowOf = (about: BoutFile, text: FileText, around: Surroundings) =>
  quickRow(about, text, around) ?? thorough?.(about, text, around);

async function read(file: BoutFile): Promise<ShelfRow> {
  const row = readRow(file, rowOf);
  if (row !== undefined) return row;
  const { thoroughRow } = await import("./thorough-row");
  thorough = thoroughRow;
  return readRow(file, thoroughRow);
}

async function readAll(files: readonly BoutFile[]): Promise<void> {
  const rows: ShelfRow[] = [];
  for (const file of files) {
    rows.push(await read(file));
    Atomics.add(progress, 0, 1);
  }
  parentPort?.postMessage(rows);
}

parentPort?.on("message", (files: readonly BoutFile[]) => void readAll(files));
