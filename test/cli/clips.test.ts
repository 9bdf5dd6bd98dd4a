import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { make, temporaryFolder } from "../video/making";
import { frameNumbers, numberedPicture } from "../video/samples.mjs";
import { buildCommand, type Command } from "./command";

const made = temporaryFolder();
let command: Command;
const phrase = (start: string, halt: string, fields: object) => ({
  ...{ kind: "phrase", start: `0:00:${start}`, halt: `0:00:${halt}` },
  ...fields,
});
const bout = (log: readonly object[], recordings: readonly object[] = [{ file: "long.mp4" }]) =>
  JSON.stringify({
    ...{ boutline: 1, bout: { weapon: "foil", format: "pool", rules: "wheelchair-2026" } },
    fencers: { left: { id: "tarn", name: "Vessa Tarn" }, right: { name: "Kel Odrey" } },
    ...{ recordings, log },
  });
const log = [
  phrase("05.000", "06.000", { actions: ["left attack"], award: "left", star: true }),
  phrase("10.000", "11.520", { actions: ["left attack", "right parry", "right riposte"], award: "right" }),
  phrase("16.000", "18.000", { actions: ["both attack"], award: "none", because: "simultaneous" }),
];

beforeAll(async () => {
  vi.stubEnv("XDG_CACHE_HOME", path.join(made, "cache"));
  command = await buildCommand();
  const fast = ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-g", "250", "-bf", "2"];
  make(command.folder, "long.mp4", ...numberedPicture("25", 20), ...fast);
  command.write("qf.bout.json", bout(log));
  command.write("second.bout.json", bout(log, [{ file: "none.mp4" }, { file: "long.mp4", offset: 2 }]));
  command.write("beyond.bout.json", bout([...log, phrase("19.000", "25.000", { award: "left" })]));
  command.write("over.bout.json", bout([...log, phrase("17.000", "19.000", { award: "left" })]));
  command.write("away.bout.json", bout(log, [{ file: "/etc/passwd" }]));
  const gone = { kind: "phrase", at: "0:00:07.000" };
  const saved = [
    { name: "ripostes", pick: { actions: "riposte" } },
    { name: "gone", pick: { phrases: [gone] } },
  ];
  command.write("qf.picks.json", JSON.stringify({ picks: 1, saved }));
});
afterAll(() => {
  vi.unstubAllEnvs();
  command.remove();
});
const at = (...names: readonly string[]) => path.join(command.folder, ...names);

describe("boutline clips", () => {
  test("cuts each phrase from before the command to after the halt, and says where each came from", async () => {
    const { status, out, errors } = await command.run(
      ...["clips", "qf.bout.json", "--out", "all", "--lead", "1", "--tail", "0.48", "--captions", "--json"],
    );
    expect([status, errors]).toEqual([0, ""]);
    const told = JSON.parse(out) as { made: Record<string, unknown>[]; seconds: number };
    expect(told.seconds).toBeCloseTo(4.52 + 3 * 1.52, 6);
    expect(told.made[1]).toMatchObject({
      ...{ file: "qf-002.mp4", captions: "qf-002.vtt", source: "long.mp4", frames: { from: 225, to: 300 } },
      evidence: { bout: "qf.bout.json", number: 2, phrase: { kind: "phrase", at: "0:00:10.000", nth: 0 } },
    });
    const numbers = frameNumbers(at("all", "qf-002.mp4"));
    expect([numbers[0], numbers.at(-1), numbers.length]).toEqual([225, 300, 76]);
    const written = JSON.parse(readFileSync(at("all", "clips.json"), "utf8")) as {
      made: { evidence: { hash: string } }[];
    };
    const hash = execFileSync("sha256sum", [at("qf.bout.json")], { encoding: "utf8" }).slice(0, 64);
    expect(written.made.map(({ evidence }) => evidence.hash)).toEqual([hash, hash, hash]);
    expect(readFileSync(at("all", "qf-002.vtt"), "utf8")).toContain(
      "00:00:02.520 --> 00:00:03.000\nleft attack, right parry, right riposte",
    );
    expect(readdirSync(at("all"))).toHaveLength(7);
  });

  test("cuts what is picked, by options or by name, and a reel of it", async () => {
    const words = ["clips", "qf.bout.json", "--out", "picked", "--pick", "ripostes"];
    const { status, out } = await command.run(...words, "--reel", "reel.mp4", "--reel-mb", "1");
    expect(status).toBe(0);
    expect(out).toMatch(/^1 clip, 6\.6 s, in /);
    expect(readdirSync(at("picked")).toSorted()).toEqual(["clips.json", "qf-002.mp4"]);
    expect(statSync(at("reel.mp4")).size).toBeLessThanOrEqual(1e6);
    const starred = await command.run("clips", "qf.bout.json", "--out", "s", "--star", "--dry-run", "--json");
    expect(JSON.parse(starred.out)).toMatchObject({
      dry: true,
      planned: [{ file: "qf-001.mp4", from: 2, to: 8 }],
    });
    const own = ["--fencer", "tarn", "--award", "own", "--dry-run"];
    expect((await command.run("clips", "qf.bout.json", "--out", "s", ...own)).out).toContain("qf-001.mp4");
    expect(existsSync(at("s"))).toBe(false);
  });

  test("cuts out of a second recording that began later", async () => {
    const words = ["clips", "second.bout.json", "--out", "second", "--recording", "2", "--numbers", "2"];
    const { status } = await command.run(...words, "--lead", "1", "--tail", "0");
    expect(status).toBe(0);
    const numbers = frameNumbers(at("second", "second-002.mp4"));
    expect([numbers[0], numbers.at(-1)]).toEqual([175, 238]);
  });

  test.each([
    ["a phrase beyond the recording's end", ["beyond.bout.json"], "beyond the end of long.mp4"],
    ["overlapping phrases", ["over.bout.json"], "begins before phrase 3 ends"],
    ["an empty pick", ["qf.bout.json", "--tags", "none of these"], "no phrase is picked by: tagged"],
    ["a recording that is an absolute path", ["away.bout.json"], "not a relative path"],
    ["a phrase picked by hand that is gone", ["qf.bout.json", "--pick", "gone"], "not there any more"],
    ["no such pick", ["qf.bout.json", "--pick", "best"], 'has no pick "best"'],
    ["an action that is none", ["qf.bout.json", "--actions", "leap"], "--actions"],
    ["own without a fencer", ["qf.bout.json", "--award", "own"], "need a fencer"],
    ["a lead that is none", ["qf.bout.json", "--lead", "-1"], "lead"],
    ["a reel of another kind", ["qf.bout.json", "--reel", "reel.avi"], ".mp4"],
    ["a reel that can't be so small", ["qf.bout.json", "--reel", "r.mp4", "--reel-mb", "0.1"], "--reel-mb"],
    ["the same bout twice", ["qf.bout.json", "./qf.bout.json", "--numbers", "9"], "no phrase"],
    ["no such file", ["nowhere.bout.json"], "no such file"],
    ["no file", [], "at least one bout file"],
  ])("ends with 2 and writes nothing for %s", async (_, words, said) => {
    const { status, out, errors } = await command.run("clips", ...words, "--out", "bad");
    expect([status, out]).toEqual([2, ""]);
    expect(errors).toContain(said);
    expect(existsSync(at("bad"))).toBe(false);
  });

  test("never writes over clips that are there, unless told to", async () => {
    const words = ["clips", "qf.bout.json", "--out", "twice", "--star"];
    expect((await command.run(...words)).status).toBe(0);
    const again = await command.run(...words);
    expect([again.status, again.out]).toEqual([2, ""]);
    expect(again.errors).toContain("is there already");
    expect((await command.run(...words, "--force")).status).toBe(0);
  });
});
