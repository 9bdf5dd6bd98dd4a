import { execFileSync } from "node:child_process";
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync } from "node:fs";
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

describe("clips of a manifest made again", () => {
  const md5 = (file: string) =>
    execFileSync("ffmpeg", ["-v", "error", "-i", file, "-f", "framemd5", "-"], { encoding: "utf8" });
  const again = (...words: readonly string[]) => command.run("clips", "--again", ...words);
  beforeAll(async () => {
    const words = ["--numbers", "1-2", "--lead", "1", "--tail", "1", "--slow", "--captions"];
    const { status, errors } = await command.run("clips", "qf.bout.json", "--out", "kept", ...words);
    expect([status, errors]).toEqual([0, ""]);
  });

  test("are the same, picture by picture and letter by letter", async () => {
    const { status, out, errors } = await again("kept/clips.json", "--out", "anew");
    expect([status, errors]).toEqual([0, ""]);
    expect(out).toMatch(/^2 clips, /);
    for (const name of ["qf-001", "qf-002"]) {
      expect(md5(at("anew", `${name}.mp4`))).toBe(md5(at("kept", `${name}.mp4`)));
      expect(readFileSync(at("anew", `${name}.vtt`))).toEqual(readFileSync(at("kept", `${name}.vtt`)));
    }
    expect(readFileSync(at("anew", "clips.json"), "utf8")).toBe(
      readFileSync(at("kept", "clips.json"), "utf8"),
    );
  });

  test("out of a recording with another name, or in another folder", async () => {
    mkdirSync(at("archive"), { recursive: true });
    copyFileSync(at("long.mp4"), at("archive", "2026-10.mp4"));
    const named = await again("kept/clips.json", "--out", "named", "--from", "archive/2026-10.mp4");
    expect([named.status, named.errors]).toEqual([0, ""]);
    expect(md5(at("named", "qf-002.mp4"))).toBe(md5(at("kept", "qf-002.mp4")));
    const missing = await again("kept/clips.json", "--out", "missing", "--from", "archive");
    expect([missing.status, missing.out]).toEqual([2, ""]);
    expect(missing.errors).toContain("there is no long.mp4 in");
    expect(existsSync(at("missing"))).toBe(false);
  });

  test("are refused out of a recording that has changed since, unless told to go on", async () => {
    mkdirSync(at("changed"), { recursive: true });
    const fast = ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p"];
    make(at("changed"), "long.mp4", ...numberedPicture("25", 15), ...fast);
    const words = ["kept/clips.json", "--out", "since", "--from", "changed"];
    const refused = await again(...words);
    expect([refused.status, refused.out]).toEqual([2, ""]);
    expect(refused.errors).toMatch(/changed since; --changed/);
    expect(existsSync(at("since"))).toBe(false);
    const told = await again(...words, "--changed");
    expect(told.status).toBe(0);
    expect(told.errors).toContain("cut all the same");
    expect(frameNumbers(at("since", "qf-002.mp4"))[0]).toBe(225);
  });

  test.each<[string, (clip: Record<string, unknown>) => object, string]>([
    ["a name that is a path", (clip) => ({ ...clip, file: "../../out.mp4" }), "can't be the name of a clip"],
    ["captions that are a path", (clip) => ({ ...clip, captions: "/tmp/x.vtt" }), "the name of the captions"],
    ["a recording that is a path", (clip) => ({ ...clip, source: "/etc/passwd" }), "without its folder"],
    ["a recording one folder up", (clip) => ({ ...clip, source: "..\\long.mp4" }), "without its folder"],
    ["times before the recording", (clip) => ({ ...clip, seconds: { from: -1, to: 2 } }), "seconds.from"],
    ["times after it", (clip) => ({ ...clip, seconds: { from: 1, to: 900 } }), "ends at"],
    [
      "a huge box",
      (clip) => ({ ...clip, options: { boxes: [{ x: 0, y: 0, width: 9, height: 1 }] } }),
      "width",
    ],
    ["no fingerprint", (clip) => ({ ...clip, fingerprint: "" }), "fingerprint"],
    ["two clips of one name", (clip) => ({ ...clip, file: "QF-002.mp4", captions: null }), "would be called"],
  ])("refuses a manifest with %s, and writes nothing", async (_, change, said) => {
    const manifest = JSON.parse(readFileSync(at("kept", "clips.json"), "utf8")) as {
      made: Record<string, unknown>[];
    };
    const [first = {}, ...rest] = manifest.made;
    command.write("hostile.json", JSON.stringify({ ...manifest, made: [change(first), ...rest] }));
    const { status, out, errors } = await again("hostile.json", "--out", "bad");
    expect([status, out]).toEqual([2, ""]);
    expect(errors).toContain(said);
    expect(existsSync(at("bad"))).toBe(false);
  });

  test.each([
    ["a bout file as well", ["kept/clips.json", "qf.bout.json"], "takes no bout file"],
    ["a pick as well", ["kept/clips.json", "--star"], "leave --star out"],
    ["a bout file in its place", ["qf.bout.json"], "clips"],
    ["no such manifest", ["nowhere.json"], "no such file"],
    ["no such place", ["kept/clips.json", "--from", "nowhere"], "is not there"],
  ])("refuses %s", async (_, words, said) => {
    const { status, errors } = await again(...words, "--out", "bad");
    expect(status).toBe(2);
    expect(errors).toContain(said);
    expect(existsSync(at("bad"))).toBe(false);
  });
});

describe("a recording that changed since it was tagged", () => {
  test("is refused where clips were cut of it before", async () => {
    mkdirSync(at("moved"), { recursive: true });
    for (const name of ["qf.bout.json", "long.mp4"]) copyFileSync(at(name), at("moved", name));
    const words = ["clips", "moved/qf.bout.json", "--numbers", "1", "--lead", "0", "--tail", "0"];
    expect((await command.run(...words, "--out", "moved")).status).toBe(0);
    const fast = ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p"];
    make(at("moved"), "long.mp4", ...numberedPicture("25", 19), ...fast);
    const refused = await command.run(...words, "--out", "other");
    expect([refused.status, refused.out]).toEqual([2, ""]);
    expect(refused.errors).toMatch(/another recording than when the clips of .*moved.clips\.json/);
    expect(existsSync(at("other"))).toBe(false);
    expect((await command.run(...words, "--out", "other", "--changed")).status).toBe(0);
    const pack = ["seminar", "moved/qf.bout.json", "--numbers", "1", "--lead", "0", "--out", "pack"];
    const noPack = await command.run(...pack);
    expect([noPack.status, noPack.out]).toEqual([2, ""]);
    expect(noPack.errors).toMatch(/another recording than when the clips of .*--changed makes the pack/);
    expect(existsSync(at("pack"))).toBe(false);
    const made = await command.run(...pack, "--changed");
    expect(made.errors).toMatch(/another recording than when the clips of .*from it\.\n/);
    expect(made.status).toBe(0);
  });

  test("is doubted where the bout goes on after its end, or its times are none of its frames", async () => {
    const late = phrase("50.000", "51.000", { award: "left" });
    command.write("late.bout.json", bout([...log, late]));
    const one = ["--numbers", "1", "--dry-run", "--out", "none"];
    const short = await command.run("clips", "late.bout.json", ...one);
    expect(short.status).toBe(0);
    expect(short.errors).toContain("goes on to 51.000 s, but long.mp4 ends at 19.960 s");
    const times = [1, 3, 5, 7].map((at) => phrase(`0${at}.013`, `0${at + 1}.021`, { award: "left" }));
    command.write("between.bout.json", bout(times));
    const between = await command.run("clips", "between.bout.json", ...one);
    expect(between.errors).toContain("8 of 8 times of the bout file are times of no frame of long.mp4");
    const pack = await command.run("seminar", "between.bout.json", "--numbers", "1", "--out", "doubted");
    expect(pack.status).toBe(0);
    expect(pack.errors).toContain("8 of 8 times of the bout file are times of no frame of long.mp4");
    expect((await command.run("clips", "qf.bout.json", ...one)).errors).toBe("");
  });
});
