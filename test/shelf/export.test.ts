// Exports read back by programs that are none of ours: DuckDB (an analytical SQL engine), ffmpeg and Chromium.

import { DuckDBInstance } from "@duckdb/node-api";
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import path from "node:path";
import fc from "fast-check";
import { launchChromium } from "../run/chromium.mjs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { phraseColumns, phraseTable, seasonOf, sheetOf } from "../../src/figures";
import { namedBouts, studyAt } from "../../src/shelf/bouts";
import { csvField, csvReadBack } from "../../src/shelf/csv";
import { exportBouts, exportFormats, type ExportOptions } from "../../src/shelf/export";
import { findBoutFiles } from "../../src/shelf/find";
import { keyIn, pseudonymsBy } from "../../src/shelf/pseudonyms";
import { boutFolder, privateWords, type Folder } from "./folder";

let folder: Folder;
let read: (sql: string) => Promise<Record<string, unknown>[]>;

async function bouts() {
  return namedBouts((await findBoutFiles([folder.bouts])).files.map(({ file }) => file));
}

async function exported(to: string, more: Partial<ExportOptions> = {}) {
  return exportBouts(await bouts(), { folder: to, formats: exportFormats, force: false, ...more });
}

function everyFile(under: string): string[] {
  return readdirSync(under, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.join(entry.parentPath, entry.name));
}

beforeAll(async () => {
  folder = boutFolder();
  const engine = await (await DuckDBInstance.create()).connect();
  read = async (sql) => (await engine.runAndReadAll(sql)).getRowObjectsJson();
  const done = await exported(folder.out);
  expect(done.ok).toBe(true);
});
afterAll(() => folder.remove());

describe("An export", () => {
  it("reads back from CSV, JSON Lines and Parquet with the same sums, equal to those of the bouts", async () => {
    const sums = `count(*) AS rows, sum(fencing_s) AS fencing, sum(entry) AS entries, sum(score_left) AS score_left,
      sum(score_right) AS score_right, sum((award = 'left')::int) AS touches_left, sum((award = 'right')::int) AS touches_right, sum((NOT sure)::int) AS unsure,
      sum(start_s) AS starts, sum(halt_s) AS halts, count(date) AS dated, min(date)::varchar AS first_day`;
    const sources = {
      csv: `read_csv('${folder.out}/phrases.csv', header = true)`,
      jsonl: `read_json('${folder.out}/phrases.jsonl', format = 'newline_delimited')`,
      parquet: `read_parquet('${folder.out}/phrases/*/*/*.parquet', hive_partitioning = true)`,
    };
    const [csv, jsonl, parquet] = await Promise.all(
      Object.values(sources).map(async (source) => (await read(`SELECT ${sums} FROM ${source}`))[0]),
    );
    const close = (one: unknown, other: unknown) => {
      for (const [name, value] of Object.entries(one as object)) {
        const second = (other as Record<string, unknown>)[name];
        if (/fencing|starts|halts/.test(name)) expect(Number(second)).toBeCloseTo(Number(value), 6);
        else expect(second, name).toEqual(value);
      }
    };
    close(csv, jsonl);
    close(csv, parquet);
    let [phrases, fencing, left, right] = [0, 0, 0, 0];
    for (const bout of await bouts()) {
      const study = await studyAt(bout.path);
      if (!study.ok) continue;
      const { sheet } = sheetOf(study.value.ledger, []);
      phrases += sheet.phrases;
      fencing += sheet.fencingSeconds;
      left += sheet.sides.left.touches;
      right += sheet.sides.right.touches;
    }
    expect(phrases).toBe(56);
    expect(Number(csv?.["rows"])).toBe(phrases);
    expect(Number(csv?.["fencing"])).toBeCloseTo(fencing, 6);
    expect([Number(csv?.["touches_left"]), Number(csv?.["touches_right"])]).toEqual([left, right]);
  });

  it("has the types of the catalogue in Parquet", async () => {
    const types = { text: "VARCHAR", integer: "INTEGER", number: "DOUBLE", date: "DATE", truth: "BOOLEAN" };
    const found = await read(
      `DESCRIBE SELECT * FROM read_parquet('${folder.out}/phrases/*/*/*.parquet', hive_partitioning = false)`,
    );
    expect(found.map((row) => [row["column_name"], row["column_type"]])).toEqual(
      phraseColumns.map(({ name, type }) => [name, types[type]]),
    );
  });

  it("has a part for each season and weapon, and bouts without a date in one of no season", async () => {
    const parts = await read(
      `SELECT season, weapon, count(*)::int AS phrases FROM read_parquet('${folder.out}/phrases/*/*/*.parquet', hive_partitioning = true) GROUP BY ALL ORDER BY ALL`,
    );
    expect(parts.map((row) => [row["season"], row["weapon"], row["phrases"]].map(String))).toEqual([
      ["2025", "epee", "17"],
      ["2026", "foil", "24"],
      ["2026", "sabre", "9"],
      ["null", "foil", "6"],
    ]);
    expect([seasonOf("2026-08-31"), seasonOf("2026-09-01"), seasonOf(null)]).toEqual([2025, 2026, null]);
  });

  it("gives formula-like text of CSV back, word for word, by the documented expression", async () => {
    const words = [
      "=1+1",
      "+1",
      "-1",
      "@x",
      "'=1",
      "''-x",
      "'plain",
      "\tx",
      "＝x",
      'a "b", c',
      "two\r\nlines",
      "",
    ];
    const file = path.join(folder.place, "words.csv");
    const check = async (texts: readonly string[]) => {
      writeFileSync(file, `n,c\r\n${texts.map((text, index) => `${index},${csvField(text)}\r\n`).join("")}`);
      const rows = await read(
        `SELECT ${csvReadBack} AS c FROM read_csv('${file}', header = true, delim = ',', quote = '"', escape = '"', new_line = '\\r\\n', allow_quoted_nulls = false, columns = {'n': 'INTEGER', 'c': 'VARCHAR'}) ORDER BY n`,
      );
      expect(rows.map((row) => row["c"])).toEqual(texts);
    };
    await check(words);
    const text = fc.string({ unit: fc.constantFrom(..."'=+-@\t ab1,\"＝é".split("")), maxLength: 6 });
    await fc.assert(fc.asyncProperty(fc.array(text, { minLength: 1, maxLength: 20 }), check), {
      numRuns: 30,
    });
    for (const word of words) expect(csvField(word).replace(/^"/, "")).not.toMatch(/^[=+\-@\t＝]/);
    expect(csvField(-1.5)).toBe("-1.5");
  });

  it("names the file that is broken and goes on with the rest", async () => {
    const done = await exported(path.join(folder.place, "again"));
    expect(done.ok && done.value.leftOut.map(({ file }) => path.basename(file))).toEqual([
      "broken.bout.json",
    ]);
    expect(done.ok && done.value.bouts).toBe(4);
  });

  it("writes over nothing without being told to, and with it leaves no part of the export before", async () => {
    const out = path.join(folder.place, "twice");
    expect((await exported(out)).ok).toBe(true);
    const before = statSync(path.join(out, "phrases.csv")).mtimeMs;
    const refused = await exported(out);
    expect(!refused.ok && refused.problem).toContain("--force");
    expect(statSync(path.join(out, "phrases.csv")).mtimeMs).toBe(before);
    const foil = (await bouts()).filter(({ file }) => file === "quiet-semifinal.bout.json");
    expect((await exportBouts(foil, { folder: out, formats: ["parquet"], force: true })).ok).toBe(true);
    expect(readdirSync(path.join(out, "phrases"))).toEqual(["season=2025"]);
    expect(readdirSync(out).filter((name) => name.includes(".part"))).toEqual([]);
  });

  it("does not throw away somebody's own file in its folder of parts", async () => {
    const out = path.join(folder.place, "mixed");
    mkdirSync(path.join(out, "phrases"), { recursive: true });
    writeFileSync(path.join(out, "phrases", "thesis.txt"), "mine");
    const refused = await exported(out, { force: true });
    expect(!refused.ok && refused.problem).toContain("thesis.txt");
    expect(existsSync(path.join(out, "phrases", "thesis.txt"))).toBe(true);
  });

  it("leaves nothing half-written where the disk refuses", async () => {
    const blocked = path.join(folder.place, "file-in-the-way");
    writeFileSync(blocked, "x");
    const refused = await exported(path.join(blocked, "out"));
    expect(!refused.ok && refused.problem).toContain("can't be written");
    expect(readFileSync(blocked, "utf8")).toBe("x");
  });

  it("writes only the phrases of a pick", async () => {
    const out = path.join(folder.place, "picked");
    const done = await exported(out, { formats: ["jsonl"], pick: { targets: ["flank"] } });
    expect(done.ok && done.value.phrases).toBe(
      (
        await read(`SELECT count(*)::int AS n FROM '${folder.out}/phrases.jsonl' WHERE target = 'flank'`)
      )[0]?.["n"],
    );
  });
});

describe("Calls", () => {
  const cues = () =>
    readFileSync(path.join(folder.out, "calls", "harbourlight-final.vtt"), "utf8").split(" --> ").length - 1;

  it("as WebVTT are what the browser's own parser reads", async () => {
    const text = readFileSync(path.join(folder.out, "calls", "harbourlight-final.vtt"), "utf8");
    const browser = await launchChromium();
    try {
      const page = await browser.newPage();
      const shown = await page.evaluate(async (content) => {
        const video = document.body.appendChild(document.createElement("video"));
        const track = video.appendChild(document.createElement("track"));
        track.src = URL.createObjectURL(new Blob([content], { type: "text/vtt" }));
        track.default = true;
        await new Promise((resolve, reject) => {
          track.onload = resolve;
          track.onerror = () => reject(new Error("the browser refuses the file"));
          track.track.mode = "showing";
        });
        return Array.from(track.track.cues ?? []).map((cue) => [
          cue.startTime,
          cue.endTime,
          (cue as VTTCue).text,
        ]);
      }, text);
      expect(shown).toHaveLength(cues());
      expect(shown).toHaveLength(24);
      expect(shown[1]).toEqual([8.25, 13.69, "left attack; left lamp: touch left (1–1)"]);
    } finally {
      await browser.close();
    }
  });

  it("as SubRip are what ffmpeg reads", () => {
    const words = [
      "-v",
      "error",
      "-i",
      path.join(folder.out, "calls", "harbourlight-final.srt"),
      "-f",
      "webvtt",
      "-",
    ];
    const text = execFileSync("ffmpeg", words, { encoding: "utf8" });
    expect(text.split(" --> ").length - 1).toBe(cues());
    expect(text).toContain("00:08.250 --> 00:13.690\nleft attack; left lamp: touch left (1–1)");
  });
});

describe("Pseudonyms", () => {
  it("leave none of the names, clubs, ids, events, files, titles, notes, tags and taggers in any byte", async () => {
    const key = keyIn(path.join(folder.place, "key"), folder.out);
    if (!key.ok) throw new Error(key.problem);
    const out = path.join(folder.place, "coded");
    expect((await exported(out, { pseudonyms: pseudonymsBy(key.value) })).ok).toBe(true);
    const words = Object.values(privateWords).flat();
    // The check can find: the plain export has most of them.
    const plain = everyFile(folder.out)
      .map((file) => readFileSync(file, "utf8"))
      .join();
    for (const word of [...privateWords.ids, ...privateWords.tags, "Harbourlight Open"])
      expect(plain).toContain(word);
    const parquet = await read(
      `SELECT * FROM read_parquet('${out}/phrases/*/*/*.parquet', hive_partitioning = true)`,
    );
    const found = [
      JSON.stringify(parquet),
      ...everyFile(out).flatMap((file) => [
        file.slice(out.length),
        readFileSync(file, "latin1"),
        readFileSync(file, "utf8"),
      ]),
    ];
    for (const word of words)
      for (const text of found) expect(text.toLowerCase().includes(word.toLowerCase()), word).toBe(false);
    expect(parquet).toHaveLength(56);
    expect(new Set(parquet.map((row) => row["left_id"])).size).toBe(3);
  });

  it("are the same with the same key, and others with another", async () => {
    const ids = async (name: string, key: string) => {
      const made = keyIn(path.join(folder.place, key), folder.out);
      if (!made.ok) throw new Error(made.problem);
      const codes = pseudonymsBy(made.value);
      const [bout] = await bouts();
      const study = bout === undefined ? undefined : await studyAt(bout.path);
      if (bout === undefined || study?.ok !== true) throw new Error(name);
      return phraseTable(study.value.ledger, bout).map((row) => codes.row(row).left_id)[0];
    };
    expect(await ids("a", "key-one")).toBe(await ids("b", "key-one"));
    expect(await ids("c", "key-one")).not.toBe(await ids("d", "key-two"));
    expect(statSync(path.join(folder.place, "key-one")).mode & 0o777).toBe(0o600);
  });

  it("refuse a key file in the folder that is given away, and one that is something else", () => {
    const inside = keyIn(path.join(folder.out, "key"), folder.out);
    expect(!inside.ok && inside.problem).toContain("export folder");
    expect(existsSync(path.join(folder.out, "key"))).toBe(false);
    const other = path.join(folder.place, "other");
    writeFileSync(other, "my diary", { mode: 0o600 });
    const wrong = keyIn(other, folder.out);
    expect(!wrong.ok && wrong.problem).toContain("no key file");
    expect(readFileSync(other, "utf8")).toBe("my diary");
  });
});
