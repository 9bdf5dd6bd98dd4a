// A file that is written while it is read: the row is of before or of after, never of both.

import { mkdtempSync, rmSync, statSync, utimesSync, writeFileSync } from "node:fs";
import type * as Fs from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { quickRow } from "../../src/shelf/quick-row";
import { notLookedAt, readRow } from "../../src/shelf/read-file";
import type { FileText, ShelfRow, Surroundings } from "../../src/shelf/row";
import { thoroughRow } from "../../src/shelf/thorough-row";
import type { BoutFile } from "../../src/shelf/find";
import { inventedBout } from "./generated";

/** Done after each part of a file was read. */
const hook = vi.hoisted(() => ({ afterRead: undefined as (() => void) | undefined }));
vi.mock("node:fs", async (original) => {
  const fs = await original<typeof Fs>();
  return {
    ...fs,
    readSync: (handle: number, bytes: Buffer, offset: number, length: number, position: number) => {
      // In two parts, as a slow disk may give them.
      const half = Math.min(length, position === 0 ? 700 : length);
      const got = fs.readSync(handle, bytes, offset, half, position);
      hook.afterRead?.();
      return got;
    },
  };
});

let folder: string;
let file: string;
let second = 1_700_000_000;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), "boutline-changing-"));
  file = path.join(folder, "a.bout.json");
});
afterEach(() => {
  hook.afterRead = undefined;
  rmSync(folder, { recursive: true, force: true });
});

/** Times of change are told apart whatever the disk's clock. */
function write(text: string): void {
  writeFileSync(file, text);
  utimesSync(file, ++second, second);
}
const text = (number: number) => inventedBout(number, { bouts: 1, phrases: 20 });
const rowOf = (about: BoutFile, given: FileText, around: Surroundings): ShelfRow =>
  quickRow(about, given, around) ?? thoroughRow(about, given, around);
function known(): BoutFile {
  const { size, mtimeMs } = statSync(file);
  return { file, size, modified: mtimeMs };
}
function alone(): ShelfRow {
  hook.afterRead = undefined;
  return readRow({ file, ...notLookedAt }, rowOf);
}

for (const [when, look] of [
  ["that was looked at before", known],
  ["that was not", () => ({ file, ...notLookedAt })],
] as const)
  it(`is read again, a file ${when}`, () => {
    write(text(1));
    const first = alone();
    let changes = 0;
    hook.afterRead = () => {
      if (changes++ === 0) write(text(2));
    };
    const row = readRow(look(), rowOf);
    expect(changes).toBeGreaterThan(2);
    expect(row).toEqual(alone());
    expect(row).toMatchObject({ is: "bout", title: "Bout 3" });
    expect(row).not.toEqual(first);
  });

it("is seen to be another although it is as long as before", () => {
  write(text(1).replace("Bout 2", "Bout A"));
  let changes = 0;
  hook.afterRead = () => {
    if (changes++ === 0) write(text(1).replace("Bout 2", "Bout B"));
  };
  expect(readRow(known(), rowOf)).toMatchObject({ is: "bout", title: "Bout B" });
});

it("is read in the state it has by now where it was looked at too long ago", () => {
  write(text(1));
  const before = known();
  write(text(2));
  expect(readRow(before, rowOf)).toMatchObject({
    title: "Bout 3",
    ...{ size: known().size, modified: known().modified },
  });
});

it("has a clear row where it never stops changing, and is read the next time", () => {
  write(text(1));
  let number = 0;
  hook.afterRead = () => write(text(++number));
  expect(readRow(known(), rowOf)).toEqual({
    is: "unreadable",
    file,
    ...notLookedAt,
    problem: "this keeps changing while it is read; it is read again at its next change",
  });
  expect(alone()).toMatchObject({ is: "bout" });
});

it("is read where it shrinks to nothing meanwhile", () => {
  write(text(1));
  let changes = 0;
  hook.afterRead = () => {
    if (changes++ === 0) write("");
  };
  expect(readRow(known(), rowOf)).toMatchObject({ is: "unreadable", size: 0, line: 1 });
});
