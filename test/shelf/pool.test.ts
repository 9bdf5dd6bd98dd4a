import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { Pool, type PoolOptions } from "../../src/shelf/pool";
import { badWorker } from "./threads";

let folder: string;
let worker: string;
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "boutline-pool-"));
  worker = badWorker(folder);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const files = (names: readonly string[]) => names.map((file) => ({ file, size: 1, modified: 1 }));
const names = (count: number, name = "file") =>
  Array.from({ length: count }, (_, index) => `${name}-${index}`);

async function told(given: readonly string[], more: Partial<PoolOptions> = {}): Promise<Map<string, string>> {
  const pool = new Pool({ worker, patience: 2, ...more });
  pool.give(files(given));
  const rows = await pool.rows();
  expect(rows.map(({ file }) => file).sort()).toEqual([...given].sort());
  return new Map(rows.map((row) => [row.file, row.is === "unreadable" ? row.problem : ""]));
}

describe("reading in threads", () => {
  it("answers every file once, also those given while others are read", async () => {
    const pool = new Pool({ worker });
    pool.give(files(names(40, "one")));
    await new Promise((go) => setTimeout(go, 100));
    pool.give(files(names(200, "two")));
    const rows = await pool.rows();
    expect(new Set(rows.map(({ file }) => file)).size).toBe(240);
    expect(rows).toHaveLength(240);
  });

  it("tells a file that a thread hangs at, and reads those it was given with it", async () => {
    const found = await told([...names(20), "hang", ...names(60, "more")]);
    expect(found.get("hang")).toMatch(
      /^a thread that reads this alone comes to grief \(it hung for \d+ s\)$/,
    );
    found.delete("hang");
    expect(new Set(found.values())).toEqual(new Set(["read"]));
  });

  it("tells files that a thread dies of, and reads the rest", async () => {
    const found = await told(["die-1", ...names(50), "throw-1", ...names(50, "more"), "die-2"]);
    for (const [name, reason] of [
      ["die-1", "it ended with 3"],
      ["die-2", "it ended with 3"],
      ["throw-1", "no more"],
    ] as const) {
      expect(found.get(name)).toBe(`a thread that reads this alone comes to grief (${reason})`);
      found.delete(name);
    }
    expect(new Set(found.values())).toEqual(new Set(["read"]));
  });

  it("gives up where threads come to nothing whatever they are given, and tells every file", async () => {
    const found = await told(names(500, "die"));
    expect([...found.values()].every((problem) => problem.includes("it ended with 3"))).toBe(true);
    expect([...found.values()].some((problem) => problem.startsWith("the threads that read"))).toBe(true);
  });

  it("gives up on a script that is not there or is none", async () => {
    for (const script of ["gone.cjs", "wrong.cjs"]) {
      const file = path.join(folder, script);
      if (script === "wrong.cjs") writeFileSync(file, "this is none");
      const found = await told(names(100), { worker: file });
      expect([...found.values()].every((problem) => problem.includes("come"))).toBe(true);
    }
  });

  it("ends when it is stopped, even with a thread that hangs", async () => {
    const stop = new AbortController();
    const pool = new Pool({ worker, signal: stop.signal });
    pool.give(files(["hang", ...names(100)]));
    setTimeout(() => stop.abort(), 300);
    expect((await pool.rows()).length).toBeLessThan(101);
  });
});
