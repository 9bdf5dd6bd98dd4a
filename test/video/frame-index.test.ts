import {
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import path from "node:path";
import { describe, expect, it, vi } from "vitest";
import { type FrameIndex, frameTable } from "../../src/video/index";
import { listRecording } from "../../src/video/listing";
import { findProgram } from "../../src/video/programs";
import {
  make,
  picture,
  plain,
  reordered,
  sayVersion,
  script,
  temporaryFolder,
  tone,
  varyingRate,
  varyingTime,
} from "./making";

const folder = temporaryFolder();

async function table(file: string, cacheDir: string, ffprobePath?: string): Promise<FrameIndex> {
  const result = await frameTable(file, { cacheDir, ffprobePath });
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
}

/** Largest distance of a table from the times a formula gives, in seconds. */
function farthest(times: Float64Array, wanted: (index: number) => number): number {
  return Math.max(...times.map((time, index) => Math.abs(time - wanted(index))));
}

describe("Frame times are those the recording was made with", () => {
  const cacheDir = path.join(folder, "times");

  it("at a constant 25 frames a second", async () => {
    const { times, first } = await table(
      make(folder, "constant.mp4", ...picture("25", 2), ...plain),
      cacheDir,
    );
    expect({ frames: times.length, first }).toEqual({ frames: 50, first: 0 });
    expect(farthest(times, (index) => index / 25)).toBeLessThan(1e-12);
  });

  it("at 30000/1001 frames a second, to the last digit", async () => {
    const { times } = await table(
      make(folder, "broadcast.mp4", ...picture("30000/1001", 2), ...plain),
      cacheDir,
    );
    expect(times.length).toBe(60);
    expect(farthest(times, (index) => (index * 1001) / 30000)).toBeLessThan(1e-12);
  });

  it("at a varying rate, to a tick of the recording's clock", async () => {
    const file = make(folder, "variable.mp4", ...picture("30", 2), ...varyingRate, ...plain);
    const { times } = await table(file, cacheDir);
    expect(times.length).toBe(60);
    // ffmpeg cuts to whole ticks.
    expect(farthest(times, varyingTime)).toBeLessThan(1.01 / 90_000);
  });

  it("where frames are stored in another order than shown", async () => {
    const { times, keyFrames, longestGop, first } = await table(
      make(folder, "reordered.mp4", ...picture("25", 2), ...reordered),
      cacheDir,
    );
    expect({ frames: times.length, keyFrames, longestGop, first }).toEqual({
      frames: 50,
      keyFrames: 2,
      longestGop: 25,
      first: 0,
    });
    expect(farthest(times, (index) => index / 25)).toBeLessThan(1e-12);
  });

  it("without the frames an edit list hides, which a cut between key frames leaves in the file", async () => {
    const whole = make(folder, "whole.mp4", ...picture("25", 3), ...reordered);
    const { times } = await table(
      make(folder, "cut.mp4", "-ss", "1.32", "-i", whole, "-c", "copy"),
      cacheDir,
    );
    // 75 frames, 33 of them before the cut.
    expect(times.length).toBe(42);
    expect(farthest(times, (index) => index / 25)).toBeLessThan(1e-12);
  });

  it("from zero, where the file's own clock starts later; how much later is told", async () => {
    const prompt = make(folder, "prompt.mp4", ...picture("25", 1), ...plain);
    const sound = [...tone(2), "-map", "0:v", "-map", "1:a", "-c:v", "copy", "-c:a", "libmp3lame"];
    const late = make(folder, "late.mp4", "-itsoffset", "0.5", "-i", prompt, ...sound);
    const { times, first } = await table(late, cacheDir);
    expect(first).toBeCloseTo(0.5, 9);
    expect(farthest(times, (index) => index / 25)).toBeLessThan(1e-9);
  });

  it("in an MPEG transport stream", async () => {
    const { times, first } = await table(
      make(folder, "stream.ts", ...picture("25", 2), ...reordered),
      cacheDir,
    );
    expect(times.length).toBe(50);
    expect(first).toBeGreaterThan(1);
    expect(farthest(times, (index) => index / 25)).toBeLessThan(1e-9);
  });
});

describe("A frame table is kept", () => {
  const source = make(folder, "kept.mp4", ...picture("25", 1), ...plain);
  const missing = path.join(folder, "no-ffprobe-here");
  let places = 0;

  /** A cache that holds the table of `source`. */
  async function filled(): Promise<{ cacheDir: string; kept: string; before: FrameIndex }> {
    places += 1;
    const cacheDir = path.join(folder, `kept-${places}`, "deep");
    const before = await table(source, cacheDir);
    const [name = "", ...others] = readdirSync(cacheDir);
    expect(others).toEqual([]);
    return { cacheDir, kept: path.join(cacheDir, name), before };
  }

  it("and given again without ffprobe", async () => {
    const { cacheDir, before } = await filled();
    expect(await table(source, cacheDir, missing)).toEqual(before);
  });

  it.each([
    ["cut short", (kept: string) => truncateSync(kept, statSync(kept).size - 8)],
    ["cut to nothing", (kept: string) => truncateSync(kept, 0)],
    [
      "with a byte changed",
      (kept: string) => {
        const bytes = readFileSync(kept);
        bytes.writeUInt8(bytes.readUInt8(bytes.length - 3) ^ 1, bytes.length - 3);
        writeFileSync(kept, bytes);
      },
    ],
    [
      "of another version",
      (kept: string) => {
        const bytes = readFileSync(kept);
        bytes.write("2", bytes.indexOf("1"));
        writeFileSync(kept, bytes);
      },
    ],
  ])("and made anew when found %s", async (_, damage) => {
    const { cacheDir, kept, before } = await filled();
    const good = readFileSync(kept);
    damage(kept);
    expect((await frameTable(source, { cacheDir, ffprobePath: missing })).ok).toBe(false);
    expect(await table(source, cacheDir)).toEqual(before);
    expect(readFileSync(kept).equals(good)).toBe(true);
  });

  it("but not for a recording that has changed since", async () => {
    const changing = make(folder, "changing.mp4", ...picture("25", 1), ...plain);
    const cacheDir = path.join(folder, "changing");
    expect((await table(changing, cacheDir)).times.length).toBe(25);
    make(folder, "changing.mp4", ...picture("25", 2), ...plain);
    expect((await table(changing, cacheDir)).times.length).toBe(50);
    utimesSync(changing, 1_700_000_000, 1_700_000_000);
    expect((await frameTable(changing, { cacheDir, ffprobePath: missing })).ok).toBe(false);
  });

  it("a hundred at most, the oldest going first", async () => {
    const { cacheDir, kept } = await filled();
    utimesSync(kept, 1_700_000_000, 1_700_000_000);
    for (let index = 0; index < 99; index += 1) writeFileSync(path.join(cacheDir, `${index}.frames`), "");
    const other = make(folder, "other.mp4", ...picture("25", 1), ...plain);
    await table(other, cacheDir);
    expect(readdirSync(cacheDir).length).toBe(100);
    expect(readdirSync(cacheDir)).not.toContain(path.basename(kept));
  });

  it("or not, where the folder can't be written; the table is there all the same", async () => {
    const file = path.join(folder, "a-file-in-the-way");
    writeFileSync(file, "");
    expect((await table(source, file)).times.length).toBe(25);
  });
});

it("A recording that grows while it is read is not kept as if it were whole", async () => {
  const growing = make(folder, "growing.mp4", ...picture("25", 1), ...plain);
  const cacheDir = path.join(folder, "growing");
  mkdirSync(cacheDir);
  const ffprobe = script(
    folder,
    "slow-ffprobe",
    `case "$*" in -version) ${sayVersion("6.1", 60)};; *packet=*) echo >> '${growing}'; exec ffprobe "$@";; *) exec ffprobe "$@";; esac`,
  );
  const result = await frameTable(growing, { cacheDir, ffprobePath: ffprobe });
  expect(result.ok ? "nothing" : result.problem.rule).toBe("recording-changed");
  expect(readdirSync(cacheDir)).toEqual([]);
});

describe("A list that finds no room in a file", () => {
  const source = make(folder, "listed.mp4", ...picture("25", 1), ...plain);

  it("is taken as it comes, where no file can be made for it", async () => {
    vi.stubEnv("TMPDIR", path.join(folder, "no such folder"));
    try {
      expect((await table(source, path.join(folder, "no-room"))).times.length).toBe(25);
    } finally {
      vi.unstubAllEnvs();
    }
  });

  it("and is taken again, where the disk was full before its end", async () => {
    // ffprobe doesn't notice; what it writes to a file ends in the middle here.
    const ffprobe = script(
      folder,
      "cut-short-ffprobe",
      `case "$*" in -version) ${sayVersion("6.1", 60)};; *) if [ -f /dev/stdout ]; then ffprobe "$@" | head -c 600; else exec ffprobe "$@"; fi;; esac`,
    );
    expect((await table(source, path.join(folder, "cut-short"), ffprobe)).times.length).toBe(25);
  });
});

describe("A long recording is listed in two goes, to the same", () => {
  const { signal } = new AbortController();
  const inOneGoAndInTwo = async (file: string) => {
    const program = await findProgram("ffprobe");
    if (!program.ok) throw new Error(program.problem.message);
    const listed = (size: number) => listRecording(program.value, { file, size }, signal, "packets");
    return [await listed(0), await listed(1e12)] as const;
  };

  it.each([
    ["with sound, and frames stored in another order", "two-goes.mp4", [...tone(2), ...reordered]],
    ["at a varying rate", "two-goes-varying.mp4", varyingRate],
    ["where only the time of decoding is written", "two-goes.avi", [...tone(2), ...reordered]],
  ])("%s", async (_, name, options) => {
    const file = make(folder, name, ...picture("25", 2), ...options);
    const [one, two] = await inOneGoAndInTwo(file);
    if (!one.ok || !two.ok) throw new Error("It can't be listed.");
    expect(two.value.metadata).toEqual(one.value.metadata);
    const shown = one.value.metadata.streams.find(({ kind }) => kind === "video")?.index ?? -1;
    expect(two.value.packets.get(shown)?.ticks.length).toBeGreaterThan(49);
    expect([...two.value.packets]).toEqual([[shown, one.value.packets.get(shown)]]);
  });

  it("and what is no recording is refused in the same words", async () => {
    const file = path.join(folder, "two-goes-diary.mp4");
    writeFileSync(file, "dear diary");
    const [one, two] = await inOneGoAndInTwo(file);
    expect(one.ok).toBe(false);
    expect(two).toEqual(one);
  });
});
