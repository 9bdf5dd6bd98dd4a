import {
  appendFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { deserialize, serialize } from "node:v8";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { likelySameBouts, likelySamePersons, personsOf, Shelf } from "../../src/shelf";
import type { PackedRows } from "../../src/shelf/packed-rows";
import { writeInvented } from "./generated";
import { builtWorker } from "./threads";

let folder: string;
beforeEach(() => {
  folder = realpathSync(mkdtempSync(path.join(tmpdir(), "boutline-shelf-")));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

interface Given {
  readonly left?: object;
  readonly right?: object;
  readonly about?: object;
  readonly recordings?: readonly string[];
  readonly log?: readonly object[];
}

function write(name: string, { left, right, about, recordings = [], log = [] }: Given = {}): string {
  const file = path.join(folder, name);
  const text = JSON.stringify({
    boutline: 1,
    bout: { weapon: "foil", format: "training", rules: "wheelchair-2026", ...about },
    fencers: { left: { name: "Vessa Tarn", ...left }, right: { name: "Kel Odrey", ...right } },
    recordings: recordings.map((recording) => ({ file: recording })),
    log,
  });
  writeFileSync(file, text);
  return file;
}

async function shelfOf(more: object = {}): Promise<Shelf> {
  const shelf = new Shelf({ folders: [folder], ...more });
  await shelf.refresh();
  return shelf;
}
const cached = () => ({ cache: { file: path.join(folder, "kept", "shelf.json"), version: "1" } });

describe("the shelf", () => {
  it("tells of each bout who, what, the score, what is not called yet and which recordings are missing", async () => {
    writeFileSync(path.join(folder, "there.mp4"), "");
    const phrase = { kind: "phrase", start: "0:00:01.000", halt: "0:00:02.000" };
    write("a.bout.json", {
      about: { title: "T", event: "Harbour Open", round: "final", date: "2026-03-01" },
      left: { id: "vt", hand: "left", category: "A" },
      recordings: ["there.mp4", "gone.mp4"],
      log: [
        { ...phrase, award: "left" },
        { ...phrase, start: "0:00:05.000", halt: "0:00:06.000" },
      ],
    });
    const [bout] = (await shelfOf()).bouts;
    expect(bout).toMatchObject({
      event: "Harbour Open",
      round: "final",
      date: "2026-03-01",
      weapon: "foil",
      fencers: { left: { id: "vt", hand: "left", category: "A" }, right: { name: "Kel Odrey" } },
      score: [1, 0],
      winner: null,
      phrases: 2,
      uncalled: 1,
      recordings: [
        { file: "there.mp4", present: true },
        { file: "gone.mp4", present: false },
      ],
    });
  });

  it("lists a broken file with its reason and its line, beside the good ones", async () => {
    write("a.bout.json");
    writeFileSync(path.join(folder, "b.bout.json"), '{\n "boutline": 1,\n "bout": oops }');
    writeFileSync(path.join(folder, "c.bout.json"), Buffer.from([0xff, 0xfe, 0x00]));
    const { rows } = await shelfOf();
    expect(rows.map(({ is }) => is)).toEqual(["bout", "unreadable", "unreadable"]);
    expect(rows[1]).toMatchObject({ line: 3 });
    expect(rows[2]).toMatchObject({ problem: "this is not UTF-8 text" });
  });

  it("reads the second time only what has changed, and forgets what is gone", async () => {
    const [one, two] = [write("a.bout.json"), write("b.bout.json")];
    const first = await shelfOf(cached());
    await first.save();
    const second = new Shelf({ folders: [folder], ...cached() });
    expect(await second.refresh()).toBe(0);
    expect(second.rows).toEqual(first.rows);
    appendFileSync(one, "\n");
    expect(await second.refresh()).toBe(1);
    rmSync(two);
    expect(await second.changed([two])).toBe(0);
    expect(second.rows.map(({ file }) => file)).toEqual([one]);
    write("c.bout.json");
    expect(await second.changed([path.join(folder, "c.bout.json")])).toBe(1);
    expect(second.rows).toHaveLength(2);
  });

  it("has the rows of the last time before it looks at anything, and what has changed since after it", async () => {
    const [, two] = [write("a.bout.json"), write("b.bout.json"), write("c.bout.json")];
    const first = await shelfOf(cached());
    await first.save();
    rmSync(two);
    const second = new Shelf({ folders: [folder], ...cached() });
    await second.recall();
    expect(second.rows).toEqual(first.rows);
    const [before] = second.rows;
    await second.refresh();
    expect(second.rows.map(({ file }) => path.basename(file))).toEqual(["a.bout.json", "c.bout.json"]);
    // Told apart without comparing what is in them.
    expect(second.rows[0]).toBe(before);
  });

  it("sees a recording beside its bout, in another folder and behind a link, and that a folder of its name is none", async () => {
    const outside = realpathSync(mkdtempSync(path.join(tmpdir(), "boutline-outside-")));
    try {
      write("a.bout.json", {
        recordings: ["beside.mp4", "sub/within.mp4", "./dot.mp4", "link.mp4", "folder.mp4"],
      });
      const shelf = await shelfOf();
      const present = () => shelf.bouts[0]?.recordings.map(({ present }) => present);
      expect(present()).toEqual([false, false, false, false, false]);
      mkdirSync(path.join(folder, "sub"));
      mkdirSync(path.join(folder, "folder.mp4"));
      for (const name of ["beside.mp4", "sub/within.mp4", "dot.mp4"])
        writeFileSync(path.join(folder, name), "");
      writeFileSync(path.join(outside, "real.mp4"), "");
      symlinkSync(path.join(outside, "real.mp4"), path.join(folder, "link.mp4"));
      expect(await shelf.refresh()).toBe(0);
      expect(present()).toEqual([true, true, true, true, false]);
      rmSync(path.join(folder, "beside.mp4"));
      expect(await shelf.refresh()).toBe(0);
      expect(present()).toEqual([false, true, true, true, false]);
    } finally {
      rmSync(outside, { recursive: true, force: true });
    }
  });

  it("looks for recordings each time, though the bout file is the same", async () => {
    write("a.bout.json", { recordings: ["late.mp4"] });
    const shelf = await shelfOf();
    writeFileSync(path.join(folder, "late.mp4"), "");
    expect(await shelf.refresh()).toBe(0);
    expect(shelf.bouts[0]?.recordings).toEqual([{ file: "late.mp4", present: true }]);
  });

  it("counts a bout again when the edition it brings has changed", async () => {
    write("a.bout.json", { about: { rules: "harbour-2026" } });
    const shelf = await shelfOf();
    expect(shelf.bouts[0]?.findings.error).toBe(1);
    writeFileSync(path.join(folder, "harbour-2026.edition.json"), "{}");
    expect(await shelf.refresh()).toBe(1);
  });

  it("reads everything again where the kept rows are damaged or of another version, and leaves no half-written file", async () => {
    write("a.bout.json");
    const { cache } = cached();
    await (await shelfOf({ cache })).save();
    expect(await new Shelf({ folders: [folder], cache: { ...cache, version: "2" } }).refresh()).toBe(1);
    // A character a byte.
    const kept = readFileSync(cache.file, "latin1");
    const [mark = ""] = kept.split("\n");
    const rows = (value: unknown) => `${mark}\n${serialize(value).toString("latin1")}`;
    const packed = deserialize(Buffer.from(kept.slice(mark.length + 1), "latin1")) as PackedRows;
    writeFileSync(cache.file, rows(packed), "latin1");
    expect(await new Shelf({ folders: [folder], cache }).refresh()).toBe(0);
    const score = { ...packed.columns.score, at: new Int32Array(0) };
    const damages = [
      "",
      "{",
      "not\nours",
      '{"boutline shelf":1,"version":"1"}\n{"rows":',
      mark,
      `${mark}\n`,
      `${mark}\n{}`,
      `${mark}\nnull`,
      rows({}),
      rows(null),
      rows({ ...packed, columns: { ...packed.columns, score } }),
      kept.slice(0, -9),
    ];
    for (const damage of damages) {
      expect(damage).not.toBe(kept);
      writeFileSync(cache.file, damage, "latin1");
      expect(await new Shelf({ folders: [folder], cache }).refresh()).toBe(1);
    }
    expect(readdirSync(path.join(folder, "kept"))).toEqual(["shelf.json"]);
  });

  it("finds nothing wrong with kept rows that are cut short anywhere but that they are to be read again", async () => {
    for (const name of ["a.bout.json", "b.bout.json"]) write(name, { recordings: ["gone.mp4"] });
    const { cache } = cached();
    await (await shelfOf({ cache })).save();
    const kept = readFileSync(cache.file);
    for (let length = 0; length < kept.length; length++) {
      writeFileSync(cache.file, kept.subarray(0, length));
      const shelf = new Shelf({ folders: [folder], cache });
      await shelf.recall();
      expect(shelf.rows).toEqual([]);
    }
  });

  it("keeps the order of paths and the rows that stay where files of many folders come, change and go", async () => {
    const names = ["a/b.bout.json", "a/b/c.bout.json", "a/b/e.bout.json", "a/c.bout.json", "b.bout.json"];
    for (const inside of ["a/b", "new"]) mkdirSync(path.join(folder, inside), { recursive: true });
    for (const name of names) write(name);
    await (await shelfOf(cached())).save();
    const shelf = new Shelf({ folders: [folder], ...cached() });
    await shelf.recall();
    const before = new Map(shelf.rows.map((row) => [path.relative(folder, row.file), row]));
    expect([...before.keys()]).toEqual(names);
    write("a/b/c.bout.json", { about: { title: "Changed" } });
    rmSync(path.join(folder, "a/b.bout.json"));
    for (const name of ["a/b/d.bout.json", "new/a.bout.json", "a.bout.json"]) write(name);
    expect(await shelf.refresh()).toBe(4);
    const after = new Map(shelf.rows.map((row) => [path.relative(folder, row.file), row]));
    expect([...after.keys()]).toEqual([
      "a.bout.json",
      "a/b/c.bout.json",
      "a/b/d.bout.json",
      "a/b/e.bout.json",
      "a/c.bout.json",
      "b.bout.json",
      "new/a.bout.json",
    ]);
    expect(after.get("a/b/c.bout.json")).toMatchObject({ title: "Changed" });
    for (const name of ["a/b/e.bout.json", "a/c.bout.json", "b.bout.json"])
      expect(after.get(name)).toBe(before.get(name));
    // Where nothing has changed, the rows are the very same list.
    const { rows } = shelf;
    expect(await shelf.refresh()).toBe(0);
    expect(shelf.rows).toBe(rows);
  });

  it("reads 200 files in threads, two of them broken, to the same rows as without threads", async () => {
    const files = writeInvented(folder, { bouts: 200, phrases: 5 });
    for (const file of files.slice(0, 2)) writeFileSync(file, "{");
    const worker = await builtWorker(folder);
    const threaded = await shelfOf({ worker });
    expect(threaded.rows).toEqual((await shelfOf()).rows);
    expect(threaded.bouts).toHaveLength(198);
  });

  it("tells each file a thread could not read where the thread comes to grief", async () => {
    const worker = path.join(folder, "worker.cjs");
    writeFileSync(worker, 'require("node:worker_threads").parentPort.on("message", () => process.exit(3));');
    writeInvented(folder, { bouts: 100, phrases: 1 });
    const { rows } = await shelfOf({ worker });
    expect(rows).toHaveLength(100);
    expect(rows.every((row) => row.is === "unreadable" && row.problem.includes("it ended with 3"))).toBe(
      true,
    );
  });
});

describe("who may be whom", () => {
  const suggested = async () =>
    likelySamePersons(personsOf((await shelfOf()).bouts)).map(({ persons, because }) => [
      ...persons.map(({ names }) => names[0]).sort(),
      because,
    ]);

  it("joins by id, whatever the spelling", async () => {
    write("a.bout.json", { left: { id: "vt", name: "Vessa Tarn" } });
    write("b.bout.json", { left: { id: "vt", name: "V. Tarn" } });
    const persons = personsOf((await shelfOf()).bouts);
    expect(persons.map(({ key, bouts }) => [key, bouts.length])).toEqual([
      ["name Kel Odrey", 2],
      ["id vt", 2],
    ]);
  });

  it("suggests names that differ by accents, case or order, and near ones, and merges none", async () => {
    write("a.bout.json", { left: { id: "1", name: "Zoë Tärn" }, right: { id: "9", name: "Ilvo Brayle" } });
    write("b.bout.json", { left: { id: "2", name: "TARN Zoe" }, right: { id: "8", name: "Ilvo Braile" } });
    write("c.bout.json", { left: { id: "3", name: "Orrin Pellow" }, right: { id: "4", name: "Nera Wend" } });
    expect(await suggested()).toEqual([
      ["TARN Zoe", "Zoë Tärn", "the same name but for accents, case or order"],
      ["Ilvo Braile", "Ilvo Brayle", "nearly the same name"],
    ]);
    expect(personsOf((await shelfOf()).bouts)).toHaveLength(6);
  });

  it("does not suggest two who have fenced each other", async () => {
    write("a.bout.json", { left: { id: "1", name: "Vessa Tarn" }, right: { id: "2", name: "Vessa Tarm" } });
    expect(await suggested()).toEqual([]);
  });
});

describe("two files of one bout", () => {
  const because = async () => likelySameBouts((await shelfOf()).bouts).map((group) => group.because);

  it("are suggested where they are equal, share a recording, or agree in day, event and round", async () => {
    write("a.bout.json");
    write("b.bout.json");
    expect(await because()).toEqual(["the files are equal"]);
    write("b.bout.json", { about: { title: "Other" } });
    expect(await because()).toEqual([]);
    write("a.bout.json", {
      recordings: ["x.mp4"],
      left: { name: "Kel Odrey" },
      right: { name: "Vessa Tarn" },
    });
    write("b.bout.json", { recordings: ["x.mp4"] });
    expect(await because()).toEqual(["the same fencers in the same recording"]);
    const about = { date: "2026-03-01", event: "Harbour Open", round: "final" };
    write("a.bout.json", { about, recordings: ["x.mp4"] });
    write("b.bout.json", { about: { ...about, event: "HARBOUR open" } });
    expect(await because()).toEqual(["the same fencers, day, event and round"]);
  });
});
