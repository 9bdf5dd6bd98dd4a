// A folder as it may really be: a few hundred bouts, some of them spoilt in every way a file can be.

import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  realpathSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { Shelf } from "../../src/shelf";
import { inventedBout, writeInvented } from "./generated";
import { builtWorker } from "./threads";

let folder: string;
let shelf: Shelf;
const bouts = 400;
const spoilt = new Map<string, string>();
/** What can be read of them is listed, with errors. */
const partlyRead = ["cut-off.bout.json", "nul-inside.bout.json"];
const isPartlyRead = (file: string) => partlyRead.some((name) => file.endsWith(name));
/** Links need a right on Windows; nobody is kept from a file where the tests run as root. */
const links = process.platform !== "win32";
const guarded = process.getuid !== undefined && process.getuid() !== 0;

beforeAll(async () => {
  folder = realpathSync(mkdtempSync(path.join(tmpdir(), "boutline-bad-")));
  writeInvented(path.join(folder, "good"), { bouts, phrases: 6 });
  const within = path.join(folder, "bad");
  mkdirSync(within);
  const text = inventedBout(1, { bouts: 1, phrases: 6 });
  const bad = (name: string, bytes: string | Buffer, reason: string) => {
    const file = path.join(within, `${name}.bout.json`);
    writeFileSync(file, bytes);
    spoilt.set(file, reason);
    return file;
  };
  bad("empty", "", "the file is empty");
  bad("cut-off", text.slice(0, text.length / 2), "");
  bad("no-json", "dear diary", "this word is not JSON");
  bad("utf-16", Buffer.from(`\uFEFF${text}`, "utf16le"), "this is not UTF-8 text");
  bad(
    "latin-1",
    Buffer.from(text.replace('"title": "', '"title": "\u00e9'), "latin1"),
    "this is not UTF-8 text",
  );
  bad("nothing-but-nul", Buffer.alloc(5000), "not JSON");
  bad("nul-inside", text.replace("Bout 2", "\u0000\u0000"), "");
  bad("huge", `${text.slice(0, -2)}${" ".repeat(30_000_000)}`, "this is too large for a bout file");
  bad("another-program", '{ "rows": [1, 2, 3] }', "missing");
  bad("commas", `{ "log": [${",".repeat(100_000)}`, "a value is missing here");
  bad("deep", "[".repeat(100_000), "nested too deep");
  mkdirSync(path.join(within, "folder.bout.json"));
  writeFileSync(path.join(within, "folder.bout.json", "inside.bout.json"), text);
  if (links) {
    symlinkSync(path.join(within, "gone"), path.join(within, "dangling.bout.json"));
    symlinkSync(folder, path.join(within, "round"));
    symlinkSync(path.join(within, "turn-2.bout.json"), path.join(within, "turn-1.bout.json"));
    symlinkSync(path.join(within, "turn-1.bout.json"), path.join(within, "turn-2.bout.json"));
  }
  if (guarded) chmodSync(bad("locked", text, "this may not be read"), 0);
  shelf = new Shelf({ folders: [folder], worker: await builtWorker(folder) });
  await shelf.refresh();
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("a folder with spoilt files", () => {
  it("lists each of them with a reason, and where in the text it is", () => {
    const unreadable = shelf.rows.filter((row) => row.is === "unreadable");
    expect(unreadable.map(({ file }) => file)).toEqual(
      [...spoilt.keys()].filter((file) => !isPartlyRead(file)).sort(),
    );
    for (const row of unreadable) {
      expect(row.problem.length).toBeGreaterThan(10);
      expect(row.problem).toContain(spoilt.get(row.file));
      if (existsSync(row.file) && !/utf-16|latin-1|locked|huge/.test(row.file))
        expect(row.line).toBeGreaterThan(0);
    }
  });

  it("keeps one of which a part can be read, with its errors", () => {
    for (const name of partlyRead) {
      const row = shelf.bouts.find(({ file }) => file.endsWith(name));
      expect(row?.findings.error, name).toBeGreaterThan(0);
    }
  });

  it("has all the others, in the folder called as a file too, and each the same as read alone", async () => {
    const good = shelf.bouts.filter(({ file }) => file.includes("good"));
    expect(good).toHaveLength(bouts);
    expect(shelf.bouts.some(({ file }) => file.endsWith("inside.bout.json"))).toBe(true);
    const here = new Shelf({ folders: [folder] });
    await here.refresh();
    expect(here.rows).toEqual(shelf.rows);
    for (const { file, phrases } of good) {
      const { log } = JSON.parse(readFileSync(file, "utf8")) as { log: { kind: string }[] };
      expect(phrases).toBe(log.filter(({ kind }) => kind === "phrase").length);
    }
  });

  if (links)
    it("tells links that lead nowhere and goes round no circle", () => {
      const told = new Map(shelf.leftOut.map(({ file, message }) => [path.basename(file), message]));
      expect(told.get("dangling.bout.json")).toBe("this link leads nowhere: there is no such file or folder");
      expect(told.get("turn-1.bout.json")).toContain("this link leads in a circle");
      expect([...told.keys()]).not.toContain("round");
    });
});
