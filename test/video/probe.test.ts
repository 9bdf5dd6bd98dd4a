import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { expect, it } from "vitest";
import { probe, type Probe } from "../../src/video/index";
import { playableOnDesktop, varies } from "../../src/video/probe";
import { make, picture, plain, reordered, temporaryFolder, tone, varyingRate } from "./making";

const folder = temporaryFolder();
const cacheDir = path.join(folder, "cache");

async function probed(file: string): Promise<Probe> {
  const result = await probe(file, { cacheDir });
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
}

async function refused(file: string): Promise<string> {
  const result = await probe(file, { cacheDir });
  return result.ok ? "nothing" : result.problem.rule;
}

it("A recording at a constant 25 frames a second is told with its size, its frames and its key frames", async () => {
  expect(await probed(make(folder, "constant.mp4", ...picture("25", 2), ...plain))).toEqual({
    frames: 50,
    first: 0,
    last: 1.96,
    start: 0,
    duration: 2,
    codec: "h264",
    width: 64,
    height: 36,
    rotation: 0,
    interlaced: false,
    rate: 25,
    variable: false,
    keyFrames: 5,
    longestGop: 10,
    audio: null,
    playable: "yes",
  });
});

it("A recording whose frames come unevenly is told as variable", async () => {
  const file = make(folder, "variable.mp4", ...picture("30", 2), ...varyingRate, ...plain);
  expect(await probed(file)).toMatchObject({ frames: 60, variable: true });
});

it("Times rounded to milliseconds by the container do not make a constant rate variable", async () => {
  const file = make(folder, "rounded.mkv", ...picture("30000/1001", 2), ...plain);
  const { variable, rate, playable } = await probed(file);
  expect({ variable, playable }).toEqual({ variable: false, playable: "no" });
  expect(rate).toBeCloseTo(30000 / 1001, 1);
});

it("A single missing frame makes a rate variable", () => {
  const even = Float64Array.from({ length: 100 }, (_, index) => index / 50);
  expect(varies(even, 1 / 12800)).toBe(false);
  expect(
    varies(
      even.filter((_, index) => index !== 40),
      1 / 12800,
    ),
  ).toBe(true);
  expect(
    varies(
      even.filter((_, index) => index !== 40),
      1 / 50,
    ),
  ).toBe(true);
});

it("One frame alone has no varying rate", () => {
  expect(varies(Float64Array.of(0), 1 / 25)).toBe(false);
});

it("A phone's upright recording is told with the turn that rights it, as ffmpeg turns it", async () => {
  const flat = make(folder, "flat.mp4", ...picture("25", 1), ...plain);
  const turned = make(folder, "turned.mp4", "-i", flat, "-c", "copy", "-metadata:s:v", "rotate=90");
  const { rotation, width, height } = await probed(turned);
  expect({ width, height }).toEqual({ width: 64, height: 36 });
  expect([90, 270]).toContain(rotation);
  // ffmpeg turns by itself what it decodes; turning the stored picture by `rotation` must give the same.
  const decoded = (...options: string[]) =>
    execFileSync("ffmpeg", [
      "-v",
      "error",
      ...options,
      "-frames:v",
      "1",
      "-f",
      "rawvideo",
      "-pix_fmt",
      "gray",
      "-",
    ]);
  const transpose = rotation === 90 ? "transpose=clock" : "transpose=cclock";
  expect(decoded("-noautorotate", "-i", turned, "-vf", transpose).equals(decoded("-i", turned))).toBe(true);
});

it("A recording that starts at another time than zero is told with that time", async () => {
  const file = make(folder, "stream.ts", ...picture("25", 1), ...reordered);
  const { first, last, start, frames, playable } = await probed(file);
  expect(first).toBeGreaterThan(1);
  expect(start).toBe(first);
  expect(last - first).toBeCloseTo(0.96, 9);
  expect({ frames, playable }).toEqual({ frames: 25, playable: "no" });
});

it.each([
  ["mp3", "libmp3lame", "yes"],
  ["flac", "flac", "yes"],
  ["aac", "aac", "silent"],
  ["opus", "libopus", "silent"],
])(
  "Beside %s sound the picture of an MP4 plays, the sound as desktop VS Code can",
  async (audio, encoder, playable) => {
    const file = make(
      folder,
      `with-${audio}.mp4`,
      ...picture("25", 1),
      ...tone(1),
      ...plain,
      "-c:a",
      encoder,
      "-strict",
      "-2",
    );
    expect(await probed(file)).toMatchObject({ audio, playable });
  },
);

it.each([
  ["VP9 in WebM", "vp9.webm", ["-c:v", "libvpx-vp9", "-deadline", "realtime", "-cpu-used", "8"]],
  ["HEVC in MP4", "hevc.mp4", ["-c:v", "libx265", "-preset", "ultrafast", "-x265-params", "log-level=error"]],
  ["ten-bit H.264", "ten-bit.mp4", ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p10le"]],
])("%s is not counted as playable by desktop VS Code", async (_, name, options) => {
  expect(await probed(make(folder, name, ...picture("25", 1), ...options))).toMatchObject({ playable: "no" });
});

it("An MP4 without a picture is not playable", () => {
  expect(playableOnDesktop({ formats: ["mp4"], duration: 1, start: 0, streams: [] })).toBe("no");
});

it("A recording of sound alone is refused for want of a picture", async () => {
  expect(await refused(make(folder, "sound.m4a", ...tone(1)))).toBe("recording-without-picture");
});

it("A cover picture of a sound file is no picture of a bout", async () => {
  const cover = make(folder, "cover.png", ...picture("1", 1), "-frames:v", "1");
  const options = ["-map", "0", "-map", "1", "-c:v", "copy", "-disposition:v:0", "attached_pic"];
  const both = make(folder, "covered.m4a", ...tone(1), "-i", cover, ...options);
  expect(await refused(both)).toBe("recording-without-picture");
});

it("A playlist named .mp4 is refused, so that it can't lead to another file", async () => {
  make(folder, "elsewhere.ts", ...picture("25", 1), ...plain);
  const playlist = path.join(folder, "playlist.mp4");
  writeFileSync(playlist, "#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\nelsewhere.ts\n#EXT-X-ENDLIST\n");
  expect(await refused(playlist)).toBe("recording-unreadable");
  const script = path.join(folder, "script.mp4");
  writeFileSync(script, "ffconcat version 1.0\nfile elsewhere.ts\n");
  expect(await refused(script)).toBe("recording-unreadable");
});

it.each([
  "-begins-with-a-dash.mp4",
  "with:colon.mp4",
  "http:address.mp4",
  "per%20cent, comma.mp4",
  "naïve 試合.mp4",
])("A recording named %s is read like any other", async (name) => {
  expect(await probed(make(folder, name, ...picture("25", 1), ...plain))).toMatchObject({ frames: 25 });
});

it("A title that looks like ffprobe's own output changes nothing", async () => {
  const title = "title=a\n[/STREAM]\n[STREAM]\nindex=0\ncodec_type=video\ncodec_name=forged\n[/STREAM]";
  const file = make(
    folder,
    "titled.mkv",
    ...picture("25", 1),
    ...plain,
    "-metadata",
    title,
    "-metadata:s:v",
    title,
  );
  expect(await probed(file)).toMatchObject({ codec: "h264", width: 64 });
});

it("A file that is no recording, an empty one, a folder and nothing at all are refused", async () => {
  const text = path.join(folder, "text.mp4");
  writeFileSync(text, "nothing to see");
  const empty = path.join(folder, "empty.mp4");
  writeFileSync(empty, "");
  expect(await refused(text)).toBe("recording-unreadable");
  expect(await refused(empty)).toBe("recording-unreadable");
  expect(await refused(folder)).toBe("recording-missing");
  expect(await refused(path.join(folder, "nowhere.mp4"))).toBe("recording-missing");
});

it("Nothing half-made is left among the tables kept", () => {
  expect(existsSync(cacheDir)).toBe(true);
  expect(readdirSync(cacheDir).filter((name) => !name.endsWith(".frames"))).toEqual([]);
});
