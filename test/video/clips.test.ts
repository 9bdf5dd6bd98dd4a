// Each clip's first and last frame, by the number in its pixels; its length by ffprobe.

import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import path from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { frameTable } from "../../src/video";
import { cutClips, cutReel, type ClipPlan, type CutOptions } from "../../src/video/clips";
import { rateOf } from "../../src/video/clips/reel";
import { writtenFrames } from "../../src/video/clips/written-frames";
import { make, temporaryFolder } from "./making";
import { decodedTimes, frameNumbers, makeSample, numberedPicture } from "./samples.mjs";

const folder = temporaryFolder();
const cacheDir = path.join(folder, "tables");
let count = 0;
const fresh = () => path.join(folder, `clips-${count++}`);

async function timesOf(file: string): Promise<readonly number[]> {
  const table = await frameTable(file, { cacheDir });
  return table.ok ? [...table.value.times] : expect.fail(table.problem.message);
}

async function cut(plan: readonly ClipPlan[], more: Partial<CutOptions> = {}) {
  const into = more.folder ?? fresh();
  const made = await cutClips(plan, { cacheDir, ...more, folder: into });
  return made.ok ? { into, ...made.value } : expect.fail(made.problem.message);
}

function durationOf(file: string, stream?: string): number {
  const what = stream === undefined ? "format=duration" : "stream=duration";
  const select = stream === undefined ? [] : ["-select_streams", stream];
  return Number.parseFloat(
    execFileSync("ffprobe", ["-v", "error", ...select, "-show_entries", what, "-of", "csv=p=0", file], {
      encoding: "utf8",
    }),
  );
}

const md5 = (file: string) =>
  execFileSync("ffmpeg", ["-v", "error", "-i", file, "-f", "framemd5", "-"], { encoding: "utf8" });

let long: string;
beforeAll(async () => {
  long = make(
    folder,
    "long.mp4",
    ...numberedPicture("50", 24),
    ...["-f", "lavfi", "-i", "sine=frequency=440:duration=24", "-c:v", "libx264", "-preset", "ultrafast"],
    ...["-pix_fmt", "yuv420p", "-g", "250", "-bf", "3", "-sc_threshold", "0", "-c:a", "aac"],
  );
  await timesOf(long);
});

describe("a clip", () => {
  test.each([
    ["h264-aac.mp4"],
    ["h264-mp3.mp4"],
    ["ntsc.mov"],
    ["vp9-opus.webm"],
    ["h264-aac.ts"],
    ["h264-mp3.avi"],
    ["variable.mp4"],
    ["late.mkv"],
    ["cut.mp4"],
  ])("of %s begins and ends on the frames asked for, and every frame between is there", async (kind) => {
    const file = await makeSample(folder, kind);
    const numbers = frameNumbers(file);
    const times = await timesOf(file);
    const ends = [
      [0, 5],
      [7, 23],
      [times.length - 9, times.length - 1],
    ] as const;
    const { into } = await cut(
      ends.map(([first, last], index) => ({
        source: file,
        from: times[first] ?? NaN,
        to: times[last] ?? NaN,
        name: `clip-${index}`,
      })),
    );
    for (const [index, [first, last]] of ends.entries())
      expect(frameNumbers(path.join(into, `clip-${index}.mp4`))).toEqual(numbers.slice(first, last + 1));
  });

  test("tells when its frames appear as ffprobe does, by its own tables", async () => {
    const file = await makeSample(folder, "variable.mp4");
    const times = await timesOf(file);
    const { into } = await cut([
      { source: file, from: times[7] ?? NaN, to: times[40] ?? NaN, name: "uneven" },
      { source: long, from: 2, to: 3, name: "even", freezeAt: 2.6 },
    ]);
    for (const name of ["uneven.mp4", "even.mp4"]) {
      const clip = path.join(into, name);
      const own = [...((await writtenFrames(clip)) ?? [])];
      const told = decodedTimes(clip);
      expect(own).toHaveLength(told.length);
      for (const [index, time] of told.entries()) expect(own[index]).toBeCloseTo(time, 4);
    }
    expect(await writtenFrames(long), "frames refer to later ones").toBeUndefined();
    const torn = path.join(folder, "torn.mp4");
    writeFileSync(torn, readFileSync(path.join(into, "even.mp4")).subarray(0, 4000));
    expect(await writtenFrames(torn)).toBeUndefined();
  });

  test("of a turned recording is upright, of an interlaced one whole pictures", async () => {
    const turned = await makeSample(folder, "turned.mp4");
    const turnedTimes = await timesOf(turned);
    const { into } = await cut([
      { source: turned, from: turnedTimes[3] ?? NaN, to: turnedTimes[12] ?? NaN, name: "turned" },
    ]);
    const upright = path.join(into, "turned.mp4");
    const size = execFileSync(
      "ffprobe",
      [
        "-v",
        "error",
        "-select_streams",
        "v",
        "-show_entries",
        "stream=width,height",
        "-of",
        "csv=p=0",
        upright,
      ],
      { encoding: "utf8" },
    );
    expect(size.trim()).toBe("180,240");
    const back = frameNumbers(turned, "transpose=cclock");
    const found = frameNumbers(upright, "transpose=cclock");
    const other = frameNumbers(upright, "transpose=clock");
    expect([found, other]).toContainEqual(
      (back[0] === null ? frameNumbers(turned, "transpose=clock") : back).slice(3, 13),
    );

    const fields = await makeSample(folder, "interlaced.ts");
    const times = await timesOf(fields);
    const all = frameNumbers(fields);
    const { into: second } = await cut([
      { source: fields, from: times[4] ?? NaN, to: times[20] ?? NaN, name: "fields" },
    ]);
    expect(frameNumbers(path.join(second, "fields.mp4"))).toEqual(all.slice(4, 21));
  });

  test("late in a long stretch between key frames is exact, and lasts as long by ffprobe", async () => {
    const { into, made } = await cut([{ source: long, from: 13.42, to: 17.98, name: "late" }]);
    const numbers = frameNumbers(path.join(into, "late.mp4"));
    expect([numbers[0], numbers.at(-1), numbers.length]).toEqual([671, 899, 229]);
    expect(made[0]).toMatchObject({ frames: { from: 671, to: 899 }, way: "encoded" });
    expect(durationOf(path.join(into, "late.mp4"), "v:0")).toBeCloseTo(4.58, 3);
    expect(Math.abs(durationOf(path.join(into, "late.mp4"), "a:0") - 4.58)).toBeLessThan(0.06);
  });

  test("is taken over as it is where it begins on a key frame and nothing is changed", async () => {
    const silent = make(
      folder,
      "silent.mp4",
      ...numberedPicture("25", 4),
      ...["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-g", "25", "-bf", "0"],
      ...["-sc_threshold", "0"],
    );
    const { into, made } = await cut([
      { source: silent, from: 1, to: 2.2, name: "key" },
      { source: silent, from: 1.04, to: 2.2, name: "other" },
    ]);
    expect(made.map(({ way }) => way)).toEqual(["copied", "encoded"]);
    expect(frameNumbers(path.join(into, "key.mp4"))).toEqual(Array.from({ length: 31 }, (_, n) => 25 + n));
    expect(frameNumbers(path.join(into, "other.mp4"))).toEqual(Array.from({ length: 30 }, (_, n) => 26 + n));
  });

  test("made twice is the same picture by picture", async () => {
    const plan: ClipPlan[] = [
      { source: long, from: 2, to: 4, name: "one", slowRepeat: { from: 3, to: 4, speed: 0.5 } },
      { source: long, from: 9, to: 10, name: "two", burnIn: "left attack: touch left" },
    ];
    const [first, second] = [await cut(plan), await cut(plan, { jobs: 1 })];
    expect(first.made).toEqual(second.made);
    for (const name of ["one.mp4", "two.mp4"])
      expect(md5(path.join(first.into, name))).toBe(md5(path.join(second.into, name)));
  });

  test("repeats its last second at half the speed", async () => {
    const { into, made } = await cut([
      { source: long, from: 2, to: 4.98, name: "slow", slowRepeat: { from: 3, to: 3.98, speed: 0.5 } },
    ]);
    const numbers = frameNumbers(path.join(into, "slow.mp4"));
    expect([numbers[0], numbers[149], numbers[150], numbers.at(-1)]).toEqual([100, 249, 150, 199]);
    expect(made[0]?.duration).toBeCloseTo(5, 6);
    expect(durationOf(path.join(into, "slow.mp4"), "v:0")).toBeCloseTo(5, 1);
  });

  test("stands still from the frame asked for, without sound", async () => {
    const { into } = await cut([
      {
        source: long,
        from: 2,
        to: 3.98,
        name: "still",
        freezeAt: 3,
        boxes: [{ x: 0, y: 0, width: 0.5, height: 0.5 }],
      },
    ]);
    const file = path.join(into, "still.mp4");
    const numbers = frameNumbers(file);
    expect([numbers[0], numbers[49], numbers[50]]).toEqual([100, 149, 150]);
    expect(new Set(numbers.slice(50))).toEqual(new Set([150]));
    expect(numbers).toHaveLength(100);
    const samples = execFileSync("ffmpeg", ["-v", "error", "-i", file, "-ac", "1", "-f", "s16le", "-"], {
      maxBuffer: 2 ** 26,
    });
    const loudest = (from: number, to: number) => {
      let most = 0;
      for (let at = Math.round(from * 44100); at < Math.round(to * 44100); at++)
        most = Math.max(most, Math.abs(samples.readInt16LE(2 * at)));
      return most;
    };
    expect(loudest(0.2, 0.9)).toBeGreaterThan(1000);
    expect(loudest(1.2, 1.8)).toBeLessThan(100);
  });
});

describe("a reel", () => {
  test.each([
    [25, 25],
    [30000 / 1001, 29.97],
    [30, 30],
    [50, 25],
    [59.94, 29.97],
    [120, 30],
  ])("of a recording of %d frames a second has %d", (rate, expected) => {
    const times = Float64Array.from({ length: 100 }, (_, index) => index / rate + (index > 50 ? 0.4 : 0));
    expect(rateOf(times)).toBeCloseTo(expected, 3);
  });

  test("holds its clips in a row and keeps to its size", async () => {
    const file = path.join(folder, "reel.mp4");
    const plan = [
      { source: long, from: 2, to: 4.98, name: "one" },
      { source: long, from: 10, to: 12.98, name: "two" },
    ];
    const made = await cutReel(plan, file, 0.4, { cacheDir });
    expect(made.ok || made.problem.message).toBe(true);
    expect(statSync(file).size).toBeLessThanOrEqual(400_000);
    expect(durationOf(file)).toBeCloseTo(6, 0);
    const numbers = frameNumbers(file).filter((number) => number !== null);
    expect(numbers.filter((number) => number >= 100 && number < 250).length).toBeGreaterThan(60);
    expect(numbers.filter((number) => number >= 500 && number < 650).length).toBeGreaterThan(60);
    const again = await cutReel(plan, file, 0.4, { cacheDir });
    expect(again).toMatchObject({ ok: false, problem: { rule: "file-exists" } });
    const small = await cutReel(plan, path.join(folder, "small.mp4"), 0.01, { cacheDir });
    expect(small).toMatchObject({ ok: false, problem: { rule: "reel-too-long" } });
  });
});

describe("nothing is written", () => {
  const good = { from: 1, to: 2, name: "good" };
  test.each<[string, Partial<ClipPlan>, string]>([
    ["for a clip beyond the recording's end", { to: 25 }, "clip-unusable"],
    ["for one that ends before it begins", { to: 0.5 }, "clip-unusable"],
    ["for a name that is a path", { name: "../out" }, "clip-name"],
    ["for a name another clip has", { name: "GOOD" }, "clip-name"],
    ["for no such recording", { source: path.join(folder, "nowhere.mp4") }, "recording-missing"],
    ["for a box outside the picture", { boxes: [{ x: 2, y: 0, width: 1, height: 1 }] }, "clip-unusable"],
  ])("%s", async (_, part, rule) => {
    const into = fresh();
    const plan = [
      { source: long, ...good },
      { source: long, ...good, name: "bad", ...part },
    ];
    expect(await cutClips(plan, { cacheDir, folder: into })).toMatchObject({ ok: false, problem: { rule } });
    expect(existsSync(into)).toBe(false);
  });

  test("over a file that is there, without being told to", async () => {
    const { into } = await cut([{ source: long, ...good }]);
    writeFileSync(path.join(into, "good.mp4"), "mine");
    const plan = [{ source: long, ...good }];
    expect(await cutClips(plan, { cacheDir, folder: into })).toMatchObject({
      ok: false,
      problem: { rule: "file-exists" },
    });
    expect(readFileSync(path.join(into, "good.mp4"), "utf8")).toBe("mine");
    await cut(plan, { folder: into, force: true });
    expect(frameNumbers(path.join(into, "good.mp4"))[0]).toBe(50);
    expect(readdirSync(into).toSorted()).toEqual(["clips.json", "good.mp4"]);
  });

  test("after a cancelling", async () => {
    const into = fresh();
    const stop = new AbortController();
    const plan = Array.from({ length: 4 }, (_, index) => ({
      source: long,
      from: 1,
      to: 20,
      name: `c${index}`,
    }));
    const cutting = cutClips(plan, {
      ...{ cacheDir, folder: into, signal: stop.signal, jobs: 1 },
      progress: () => stop.abort(),
    });
    expect(await cutting).toMatchObject({ ok: false, problem: { rule: "cancelled" } });
    expect(existsSync(into)).toBe(false);
  });
});
