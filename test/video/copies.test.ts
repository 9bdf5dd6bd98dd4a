import { execFileSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import { type CopyKind, Copies, probe, type ViewingCopy, whichCopy } from "../../src/video/index";
import { make, picture, plain, temporaryFolder, tone } from "./making";
import { decodedTimes, frameNumbers, kinds, makeSample } from "./samples.mjs";

const folder = temporaryFolder();
const cacheDir = path.join(folder, "tables");
const copies = new Copies({ folder: path.join(folder, "copies"), cacheDir });

async function copied(file: string, kind: CopyKind, by = copies): Promise<ViewingCopy> {
  const copy = await by.make(file, kind);
  if (!copy.ok) throw new Error(copy.problem.message);
  return copy.value;
}

interface Listed {
  readonly codec_name: string;
  readonly width?: number;
  readonly height?: number;
  readonly has_b_frames?: number;
}

function streams(file: string): Listed[] {
  const text = execFileSync("ffprobe", ["-v", "error", "-show_streams", "-of", "json", file], {
    encoding: "utf8",
  });
  return (JSON.parse(text) as { streams: Listed[] }).streams;
}

/** Presentation times of the picture's packets that are shown, by ffprobe's own list, from the first, in order. */
function listedTimes(file: string): number[] {
  const what = [
    "-select_streams",
    "V:0",
    "-show_entries",
    "packet=pts_time,dts_time,flags",
    "-of",
    "csv=p=0",
  ];
  const shown = execFileSync("ffprobe", ["-v", "error", ...what, file], { encoding: "utf8" })
    .split("\n")
    .map((line) => line.split(","))
    .filter(([shown]) => shown !== undefined && shown !== "")
    .filter(([, , flags = ""]) => !flags.includes("D"))
    .map(([shown = "", decoded = ""]) => Number(shown === "N/A" ? decoded : shown))
    .toSorted((one, other) => one - other);
  return shown.map((time) => time - (shown[0] ?? 0));
}

function farthest(one: ArrayLike<number>, other: ArrayLike<number>): number {
  expect(one.length).toBe(other.length);
  return Math.max(...Array.from(one, (time, index) => Math.abs(time - (other[index] ?? Infinity))));
}

describe.each(Object.entries(kinds))("A recording of the kind %s", (kind, { firstNumber = 0 }) => {
  const turnedBack = kind === "turned.mp4" ? "transpose=clock" : undefined;

  it("is told as ffprobe lists it, and its viewing copy shows the same frames at the same times", async () => {
    const file = await makeSample(folder, kind);
    const told = await probe(file, { cacheDir });
    if (!told.ok) throw new Error(told.problem.message);
    const listed = listedTimes(file);
    const [shown, heard] = streams(file);
    expect(told.value).toMatchObject({
      frames: listed.length,
      codec: shown?.codec_name,
      width: shown?.width,
      height: shown?.height,
      audio: heard?.codec_name ?? null,
      interlaced: kind === "interlaced.ts",
    });

    const { file: copy, made, missing, index } = await copied(file, "whole");
    expect({ made, missing }).toEqual({ made: true, missing: 0 });
    // As decoded by ffmpeg, to the microsecond it prints.
    expect(farthest(listed, index.times)).toBeLessThan(1e-5);
    expect(farthest(listed, decodedTimes(copy))).toBeLessThan(0.001);
    expect(Math.abs(index.first)).toBeLessThan(0.001);
    const numbers = Array.from(listed, (_, index) => firstNumber + index);
    expect(frameNumbers(copy, turnedBack)).toEqual(numbers);

    expect(index.longestGop).toBeLessThanOrEqual(12);
    const again = await probe(copy, { cacheDir });
    const audio = heard === undefined ? null : "mp3";
    expect(again).toMatchObject({ value: { codec: "h264", audio, playable: "yes", interlaced: false } });
    if (again.ok) expect(whichCopy(again.value)).toBe("none");
  });
});

describe("Which copy a recording needs", () => {
  const usual = {
    ...{ frames: 100, first: 0, last: 3.96, start: 0, duration: 4, codec: "h264", width: 1280, height: 720 },
    ...{
      rotation: 0,
      interlaced: false,
      rate: 25,
      variable: false,
      keyFrames: 4,
      longestGop: 25,
      audio: "mp3",
    },
    playable: "yes" as const,
  };

  it.each([
    ["none where it plays and key frames are near", {}, "none"],
    [
      "the sound alone where the picture plays in silence",
      { audio: "aac", playable: "silent" as const },
      "sound",
    ],
    ["all of it where the picture does not play", { codec: "hevc", playable: "no" as const }, "whole"],
    [
      "all of it where the picture plays in silence but is no H.264",
      { codec: "vp8", playable: "silent" as const },
      "whole",
    ],
    ["all of it where key frames are ten seconds apart", { longestGop: 250 }, "whole"],
    [
      "all of it where a jump decodes much, though key frames are a second apart",
      { width: 3840, height: 2160 },
      "whole",
    ],
    [
      "none for a small picture with key frames a few seconds apart",
      { width: 320, height: 180, longestGop: 250 },
      "none",
    ],
    [
      "none where every frame of a huge picture is near a key frame",
      { width: 7680, height: 4320, longestGop: 12 },
      "none",
    ],
    ["all of it where fields are taken in turn", { interlaced: true }, "whole"],
  ])("is %s", (_, told, wanted) => {
    expect(whichCopy({ ...usual, ...told })).toBe(wanted);
  });

  it("goes by what the viewer found, where it tried", () => {
    expect(whichCopy({ ...usual, codec: "hevc", playable: "no" }, "yes")).toBe("none");
    expect(whichCopy(usual, "no")).toBe("whole");
  });
});

it("Where only the sound is converted, the picture is taken over byte for byte", async () => {
  const file = await makeSample(folder, "h264-aac.mp4", "sound.mp4");
  const { file: copy, index } = await copied(file, "sound");
  const hash = (of: string) =>
    execFileSync("ffmpeg", ["-v", "error", "-i", of, "-map", "0:v", "-c", "copy", "-f", "hash", "-"], {
      encoding: "utf8",
    });
  expect(hash(copy)).toBe(hash(file));
  expect(streams(copy).map(({ codec_name }) => codec_name)).toEqual(["h264", "mp3"]);
  expect(streams((await copied(file, "whole")).file)[0]).toMatchObject({
    codec_name: "h264",
    has_b_frames: 0,
  });
  expect(farthest(listedTimes(file), index.times)).toBeLessThan(1e-5);
  expect(farthest(listedTimes(file), decodedTimes(copy))).toBeLessThan(0.001);
});

it("Where an edit list hides frames, a copy of the sound alone still shows the right ones", async () => {
  const file = await makeSample(folder, "cut.mp4", "cut-sound.mp4");
  const { file: copy } = await copied(file, "sound");
  expect(frameNumbers(copy)).toEqual(Array.from({ length: 42 }, (_, index) => 33 + index));
  expect(farthest(listedTimes(file), decodedTimes(copy))).toBeLessThan(0.001);
});

it("A recording that begins between key frames keeps the times of the frames that can be decoded", async () => {
  const options = ["-c:v", "libx264", "-preset", "fast", "-pix_fmt", "yuv420p", "-g", "12", "-bf", "3"];
  const whole = make(
    folder,
    "broadcast.ts",
    "-f",
    "lavfi",
    "-i",
    "testsrc2=size=160x120:rate=25:duration=6",
    ...options,
  );
  const all = readFileSync(whole);
  // Whole packets of 188 bytes, a fifth of the way in.
  const bytes = all.subarray(188 * Math.floor(all.length / 188 / 5));
  const file = path.join(folder, "joined-late.ts");
  writeFileSync(file, bytes);
  const { missing, index, file: copy } = await copied(file, "whole");
  expect(missing).toBeGreaterThan(0);
  const listed = listedTimes(file);
  expect(index.times.length).toBe(listed.length - missing);
  const decoded = decodedTimes(copy);
  expect(farthest(decoded, index.times)).toBeLessThan(0.001);
  for (const time of index.times) expect(listed.some((own) => Math.abs(own - time) < 1e-5)).toBe(true);
});

describe("The picture of a copy", () => {
  const sized = async (name: string, size: string, lines?: number, ...more: string[]) => {
    const options = [
      "-f",
      "lavfi",
      "-i",
      `testsrc=size=${size}:rate=25:duration=0.2`,
      ...(more.includes("-c:v") ? more : [...more, ...plain]),
    ];
    const by = new Copies({ folder: path.join(folder, "sized"), cacheDir, lines });
    const [first] = streams((await copied(make(folder, name, ...options), "whole", by)).file);
    return [first?.width, first?.height];
  };

  it("has 540 lines, whatever the recording has above that", async () => {
    expect(await sized("large.mp4", "1280x720")).toEqual([960, 540]);
  });

  it("is never enlarged, and even where the recording is odd", async () => {
    expect(await sized("odd.mkv", "161x91", undefined, "-c:v", "ffv1")).toEqual([160, 90]);
  });

  it("has as many lines as asked for", async () => {
    expect(await sized("asked.mp4", "640x480", 120)).toEqual([160, 120]);
  });

  it("has square pixels where the recording's are wide", async () => {
    expect(await sized("wide.mp4", "180x144", undefined, "-vf", "setsar=64/45")).toEqual([256, 144]);
  });
});

it("Neither a title nor the place where it was filmed is taken over", async () => {
  const secret = ["-metadata", "title=Kept private", "-metadata", "location=+47.0000+008.0000/"];
  const file = make(folder, "private.mp4", ...picture("25", 1), ...tone(1), ...plain, ...secret);
  const bytes = readFileSync((await copied(file, "whole")).file, "latin1");
  expect(readFileSync(file, "latin1")).toContain("Kept private");
  expect(bytes).not.toContain("Kept private");
  expect(bytes).not.toContain("+47.0");
});

it("Nothing but copies is left in the folder", () => {
  mkdirSync(path.join(folder, "copies"), { recursive: true });
  expect(
    readdirSync(path.join(folder, "copies")).filter((name) => !/^[0-9a-f]{32}-(540|sound)\.mp4$/.test(name)),
  ).toEqual([]);
});
