// A plan on the disk that several people write to.

import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { thingOf, withWords } from "../../src/figures/brief";
import { changePlan, planFileIn, planOnDisk } from "../../src/shelf/plan-file";

const of = { fencer: "tarn" };
let folder = "";
let file = "";
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), "plan-"));
  file = path.join(folder, "tarn.plan.json");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe("a plan on the disk", () => {
  test("is written as asked and read again, and nothing else is left in the folder", async () => {
    const kept = await changePlan(file, of, (now) => withWords(now, 2, "wait"));
    expect(kept.ok).toBe(true);
    const read = await planOnDisk(file, of);
    expect(read.ok && thingOf(read.value.plan, 2).do).toBe("wait");
    expect(readdirSync(folder)).toEqual(["tarn.plan.json"]);
  });

  test("many changes at once are all in it at the end", async () => {
    await Promise.all(
      [0, 1, 2, 0, 1, 2].map((thing) =>
        changePlan(file, of, (now) => withWords(now, thing, `${now.things[thing]?.do ?? ""}+`)),
      ),
    );
    const read = await planOnDisk(file, of);
    expect(read.ok && read.value.plan.things.map((thing) => thing.do)).toEqual(["++", "++", "++"]);
  });

  test("a change made by somebody else between reading and writing is not lost", async () => {
    await changePlan(file, of, (now) => withWords(now, 0, "before"));
    let interfered = false;
    const kept = await changePlan(file, of, (now) => {
      if (!interfered) {
        interfered = true;
        const text = readFileSync(file, "utf8").replace('"before"', '"theirs"');
        writeFileSync(file, text);
      }
      return withWords(now, 1, "mine");
    });
    expect(kept.ok && kept.value.things.map((thing) => thing.do)).toEqual(["theirs", "mine"]);
    expect(readFileSync(file, "utf8")).toContain("theirs");
  });

  test("a sign that somebody writes, left by a window that is gone, holds nobody up for long", async () => {
    const sign = `${file}.writing`;
    writeFileSync(sign, "");
    const longAgo = new Date(Date.now() - 60_000);
    utimesSync(sign, longAgo, longAgo);
    expect((await changePlan(file, of, (now) => withWords(now, 0, "x"))).ok).toBe(true);
    expect(readdirSync(folder)).toEqual(["tarn.plan.json"]);
  });

  test("a damaged one, one of another fencer and a folder of its name stay as they are", async () => {
    for (const text of ["{ half", `{ "plan": 1, "fencer": "quill", "things": [] }`]) {
      writeFileSync(file, text);
      const kept = await changePlan(file, of, (now) => withWords(now, 0, "mine"));
      expect(kept.ok).toBe(false);
      expect(readFileSync(file, "utf8")).toBe(text);
    }
    rmSync(file);
    mkdirSync(file);
    expect((await changePlan(file, of, (now) => withWords(now, 0, "mine"))).ok).toBe(false);
    expect(readdirSync(folder)).toEqual(["tarn.plan.json"]);
  });

  test("a folder that is not there is told, not made", async () => {
    const kept = await changePlan(path.join(folder, "gone", "tarn.plan.json"), of, (now) =>
      withWords(now, 0, "x"),
    );
    expect(kept.ok ? "" : kept.problem).toContain("can't be written");
  });

  test("lies in the first folder that has one, else will be in the first", () => {
    const [one, two] = ["one", "two"].map((name) => path.join(folder, name)) as [string, string];
    mkdirSync(one);
    mkdirSync(two);
    expect(planFileIn([one, two], of)).toBe(path.join(one, "tarn.plan.json"));
    writeFileSync(path.join(two, "tarn.plan.json"), "");
    expect(planFileIn([one, two], of)).toBe(path.join(two, "tarn.plan.json"));
  });
});
