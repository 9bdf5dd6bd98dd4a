// Queries over the phrase table: what they answer, and what they can't reach.

import { readdirSync, rmSync } from "node:fs";
import { copyFile, mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { build } from "esbuild";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { phraseTable } from "../../src/figures";
import { namedBouts, studyAt } from "../../src/shelf/bouts";
import { findBoutFiles } from "../../src/shelf/find";
import { queryPhrases, usualLimits } from "../../src/shelf/query";
import { boutFolder, type Folder } from "./folder";

const root = path.join(import.meta.dirname, "..", "..");
let folder: Folder;
let built: string;

async function bouts() {
  return namedBouts((await findBoutFiles([folder.bouts])).files.map(({ file }) => file));
}

async function ask(sql: string, limits = usualLimits) {
  return queryPhrases(path.join(built, "query-worker.js"), sql, await bouts(), limits);
}

beforeAll(async () => {
  folder = boutFolder();
  built = await mkdtemp(path.join(tmpdir(), "boutline-query-"));
  await build({
    absWorkingDir: root,
    entryPoints: ["src/shelf/query-worker.ts"],
    outfile: path.join(built, "query-worker.js"),
    ...{ bundle: true, platform: "node", format: "cjs", target: "node20", logLevel: "error" },
    mainFields: ["module", "main"],
    define: { "import.meta.url": '"file:///sqlite3.mjs"' },
  });
  const binary = ["node_modules", "@sqlite.org", "sqlite-wasm", "sqlite-wasm", "jswasm", "sqlite3.wasm"];
  await copyFile(path.join(root, ...binary), path.join(built, "sqlite3.wasm"));
});
afterAll(() => {
  folder.remove();
  rmSync(built, { recursive: true, force: true });
});

describe("A query", () => {
  it("answers from the same rows as the phrase table", async () => {
    let [rows, fencing, unsure] = [0, 0, 0];
    for (const bout of await bouts()) {
      const study = await studyAt(bout.path);
      if (!study.ok) continue;
      for (const row of phraseTable(study.value.ledger, bout)) {
        rows++;
        fencing += Number(row.fencing_s);
        if (row.sure === false) unsure++;
      }
    }
    const answer = await ask("select count(*) n, sum(fencing_s) fencing, sum(not sure) unsure from phrases");
    if (!answer.ok) throw new Error(answer.problem);
    expect(answer.value.columns).toEqual(["n", "fencing", "unsure"]);
    const [found] = answer.value.rows;
    expect([found?.[0], found?.[2]]).toEqual([rows, unsure]);
    expect(found?.[1]).toBeCloseTo(fencing, 9);
    expect(answer.value.leftOut.map(({ file }) => path.basename(file))).toEqual(["broken.bout.json"]);
  });

  it("may use WITH, windows, JSON and comments", async () => {
    const answer = await ask(`-- who opened
      with o as (select opener, count(*) n from phrases group by 1)
      select opener, n, rank() over (order by n desc) place, json_array_length('[1,2]') two from o order by n desc; `);
    expect(answer.ok && answer.value.rows.map(([, , place, two]) => [place, two])).toEqual([
      [1, 2],
      [2, 2],
    ]);
  });

  it.each([
    "insert into phrases (bout) values ('x')",
    "update phrases set bout = 'x'",
    "delete from phrases",
    "drop table phrases",
    "create table t (a)",
    "create temp table t as select 1",
    "attach database 'other.db' as other",
    "vacuum into 'copy.db'",
    "pragma journal_mode",
    "pragma hard_heap_limit = 0",
    "begin",
    "select * from pragma_table_info('phrases')",
    "select * from sqlite_schema",
    "with t as (select 1) delete from phrases",
    "select 1; delete from phrases",
    "select 1; select 2",
    "reindex",
    "analyze",
  ])("is refused where it does more than read: %s", async (sql) => {
    const answer = await ask(sql);
    expect(!answer.ok && answer.problem).toContain("one SELECT");
  });

  it("reaches no file and no extension", async () => {
    const before = readdirSync(built);
    for (const sql of [
      "select load_extension('x')",
      "select readfile('/etc/hosts')",
      "select writefile('x', 1)",
    ]) {
      const answer = await ask(sql);
      expect(!answer.ok && answer.problem).toContain("no such function");
    }
    expect(readdirSync(built)).toEqual(before);
  });

  it("that never ends is stopped", async () => {
    const answer = await ask(
      "with recursive a(x) as (select 1 union all select x + 1 from a) select max(x) from a",
      { seconds: 1, mostRows: 10 },
    );
    expect(!answer.ok && answer.problem).toContain("longer than 1 s");
  });

  it("with too many rows gives the first of them and says so", async () => {
    const endless = "with recursive a(x) as (select 1 union all select x + 1 from a) select x from a";
    const answer = await ask(endless, { seconds: 10, mostRows: 5 });
    expect(answer.ok && [answer.value.cut, answer.value.rows.length]).toEqual([true, 5]);
  });

  it("can't fill the memory", async () => {
    const big = await ask("select zeroblob(1000000000)");
    expect(!big.ok && big.problem).toContain("too big");
    const sorted = await ask(
      "with recursive a(x) as (select 1 union all select x + 1 from a limit 100000000) select x, hex(zeroblob(1000)) h from a order by h desc, x",
      { seconds: 60, mostRows: 5 },
    );
    expect(!sorted.ok && sorted.problem).toMatch(/memory|full/);
  });

  it("with a mistake is told what SQLite says of it", async () => {
    const answer = await ask("select oponer from phrases");
    expect(!answer.ok && answer.problem).toBe("no such column: oponer");
    const empty = await ask("  -- nothing");
    expect(!empty.ok && empty.problem).toBe("the query is empty");
  });
});
