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
import { listRecording, type Stream } from "../../src/video/listing";
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
import { kinds, makeSample } from "./samples.mjs";

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

describe("Pictures are listed alone, and still all streams are known", () => {
  const { signal } = new AbortController();
  const listed = async (file: string, what: "container" | "packets", ffprobe?: string) => {
    const program = await findProgram("ffprobe", ffprobe);
    if (!program.ok) throw new Error(program.problem.message);
    return listRecording(program.value, file, signal, what);
  };
  /** What anybody asks of a stream: of sound only what it is. */
  const asked = ({ index, kind, codec, ...more }: Stream) =>
    kind === "audio" ? { index, kind, codec } : { index, kind, codec, ...more };
  /** What the container says by itself, in ffprobe's own list of streams, is the measure. */
  const compare = async (file: string, ffprobe?: string) => {
    const alone = await listed(file, "container");
    const together = await listed(file, "packets", ffprobe);
    if (!alone.ok || !together.ok) throw new Error("It can't be listed.");
    const { streams, ...rest } = together.value.metadata;
    const { streams: wanted, ...restWanted } = alone.value.metadata;
    expect(rest).toEqual(restWanted);
    expect(streams.map(asked)).toEqual(wanted.map(asked));
    const shown = wanted.filter(({ kind }) => kind === "video").map(({ index }) => index);
    expect([...together.value.packets.keys()]).toEqual(shown);
    expect(together.value.packets.get(shown[0] ?? -1)?.ticks.length).toBeGreaterThan(10);
    return together.value.metadata;
  };

  it.each(Object.keys(kinds))("%s", async (kind) => {
    const { streams } = await compare(await makeSample(folder, kind));
    expect(streams.some(({ kind }) => kind === "audio")).toBe(kinds[kind]?.sound === true);
  });

  it.each([
    ["frames stored in another order", "alone.mp4", [...tone(2), ...reordered]],
    ["a varying rate", "alone-varying.mp4", varyingRate],
    ["only the time of decoding written", "alone.avi", [...tone(2), ...reordered]],
    ["plain samples", "alone.mov", [...tone(2), "-c:a", "pcm_s16le"]],
    [
      "two sounds",
      "alone-two.mkv",
      [...tone(2), ..."-map 0:v -map 1:a -map 1:a -c:a:0 flac -c:a:1 libopus".split(" ")],
    ],
  ])("with %s", async (_, name, options) => {
    await compare(make(folder, name, ...picture("25", 2), ...options));
  });

  it("whatever the words of its tags say", async () => {
    const words = "a\n[info]   Stream #0:7: Audio: mp3\r\n  Stream #0:8: Audio: mp3";
    const file = make(
      folder,
      "tagged.mkv",
      ...picture("25", 2),
      ...tone(2),
      "-c:a",
      "flac",
      ...["-metadata", `title=${words}`],
      ...["-metadata:s:a:0", `title=${words}`],
    );
    const { streams } = await compare(file);
    expect(streams.map(({ codec }) => codec)).toEqual(["h264", "flac"]);
  });

  it("also where ffprobe tells of them in words nobody knows", async () => {
    const ffprobe = script(
      folder,
      "other-words-ffprobe",
      `case "$*" in -version) ${sayVersion("6.1", 60)};; *) { ffprobe "$@" 2>&1 >&3 | sed 's/Stream #/Strom #/' >&2; } 3>&1;; esac`,
    );
    const { streams } = await compare(await makeSample(folder, "h264-aac.mp4"), ffprobe);
    expect(streams.map(({ codec }) => codec)).toEqual(["h264", "aac"]);
  });

  it("and what is no recording is refused in the same words", async () => {
    const file = path.join(folder, "diary-alone.mp4");
    writeFileSync(file, "dear diary");
    const alone = await listed(file, "container");
    expect(alone.ok).toBe(false);
    expect(await listed(file, "packets")).toEqual(alone);
  });
});
