// Small recordings of every kind a coach may have, made by ffmpeg on the spot. Each frame holds its number as a row of
// blocks along the bottom edge, as test/demo/frame-number.mjs reads them.
import { execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import path from "node:path";
import { readFrameNumber } from "../demo/frame-number.mjs";

/** Pixels of a sample. */
export const width = 240;
export const height = 180;

const columns = 60;
const rows = 45;

/** An ffmpeg filter that draws number `N` of a frame: white, black, 16 bits, parity, black (see frame-number.mjs). */
function numbered(rate, seconds) {
  const block = width / columns;
  const top = height - height / rows;
  const bit = (index) => `mod(floor(N/pow(2\\,${index}))\\,2)`;
  const bits = Array.from({ length: 16 }, (_, place) => bit(15 - place));
  const parity = `mod(${bits.join("+")}\\,2)`;
  const values = ["1", "0", ...bits, parity, "0"];
  // geq is slow, so it works on the row of blocks alone, a pixel for each block, enlarged afterwards.
  const row = `color=black:size=${values.length}x1:rate=${rate}:duration=${seconds},format=gray,geq=lum='12+232*(${values
    .map((value, index) => `eq(X\\,${index})*${value}`)
    .join("+")})',scale=${values.length * block}:${height / rows}:flags=neighbor,format=yuv420p`;
  return `${row}[numbers];[picture][numbers]overlay=0:${top}`;
}

/** Input options of a moving picture with its frame's number in it. */
export function numberedPicture(rate, seconds) {
  const moving = `testsrc=size=${width}x${height}:rate=${rate}:duration=${seconds},format=yuv420p[picture]`;
  return ["-f", "lavfi", "-i", `${moving};${numbered(rate, seconds)}`];
}

/** Silence, with a tone of 1 kHz from the second `from` on for `long` seconds. */
export function beep(seconds, from, long = seconds) {
  const on = `between(t\\,${from}\\,${from + long})`;
  return ["-f", "lavfi", "-i", `aevalsrc=exprs='0.8*sin(2*PI*1000*t)*${on}':d=${seconds}:s=48000`];
}

const h264 = ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p"];
const hevc = ["-c:v", "libx265", "-preset", "ultrafast", "-x265-params", "log-level=error:bframes=2"];
const vp9 = ["-c:v", "libvpx-vp9", "-deadline", "realtime", "-cpu-used", "8", "-b:v", "400k"];
const av1 = ["-c:v", "libsvtav1", "-preset", "12", "-svtav1-params", "pred-struct=1"];
const mpeg2 = ["-c:v", "mpeg2video", "-q:v", "3", "-bf", "2"];
/** Frames refer to later ones, so they are stored in another order than shown. */
const reordered = ["-bf", "2", "-b_strategy", "0", "-sc_threshold", "0"];
const aac = ["-c:a", "aac"];

/** Frames a varying time apart, up to 12 ms late and with a pause, as phones record. */
const varying = [
  ...["-vf", "settb=1/90000,setpts='(N/30+0.004*mod(N*7\\,4)+0.3*gte(N\\,20))/TB'", "-fps_mode", "vfr"],
  ...["-enc_time_base", "1/90000", "-video_track_timescale", "90000"],
];

/**
 * name -> how it is made: `rate` frames a second for `seconds`, `sound` or none, ffmpeg's `options`. What is made in two
 * steps has `then`, the options of the second one, which reads the first by `-i`; `before` stands ahead of that.
 */
export const kinds = {
  "h264-aac.mp4": { rate: "25", seconds: 1.6, sound: true, options: [...h264, ...reordered, ...aac] },
  "h264-mp3.mp4": {
    rate: "50",
    seconds: 1.6,
    sound: true,
    options: [...h264, "-g", "12", "-bf", "0", "-c:a", "libmp3lame"],
  },
  "ntsc.mov": {
    rate: "30000/1001",
    seconds: 1.6,
    sound: true,
    options: [...h264, ...reordered, "-c:a", "pcm_s16le"],
  },
  "hevc-aac.mp4": { rate: "25", seconds: 1.6, sound: true, options: [...hevc, "-tag:v", "hvc1", ...aac] },
  "vp9-opus.webm": { rate: "30", seconds: 1.6, sound: true, options: [...vp9, "-c:a", "libopus"] },
  "av1.mp4": { rate: "25", seconds: 1, sound: false, options: av1 },
  "h264-aac.ts": { rate: "50", seconds: 1.6, sound: true, options: [...h264, ...reordered, ...aac] },
  "h264-mp3.avi": {
    rate: "25",
    seconds: 1.6,
    sound: true,
    options: [...h264, "-bf", "0", "-c:a", "libmp3lame"],
  },
  "variable.mp4": {
    rate: "30",
    seconds: 1.6,
    sound: true,
    options: [...h264, ...reordered, ...varying, ...aac],
  },
  "interlaced.ts": {
    rate: "25",
    seconds: 1.6,
    sound: true,
    options: [...mpeg2, "-flags", "+ildct+ilme", "-field_order", "tt", "-top", "1", "-c:a", "libmp3lame"],
  },
  "turned.mp4": {
    ...{ rate: "25", seconds: 1, sound: false, options: [...h264, "-g", "12", "-bf", "0"] },
    then: ["-c", "copy", "-metadata:s:v", "rotate=90"],
  },
  "late.mkv": {
    ...{ rate: "25", seconds: 1.6, sound: true, options: [...h264, ...reordered, ...aac] },
    then: ["-c", "copy", "-output_ts_offset", "5"],
  },
  "cut.mp4": {
    ...{ rate: "25", seconds: 3, sound: true, options: [...h264, ...reordered, "-g", "50", ...aac] },
    before: ["-ss", "1.32"],
    then: ["-c", "copy"],
    firstNumber: 33,
  },
};

/** Makes a sample in a folder, `as` another name if given; resolves to its full path. */
export async function makeSample(folder, kind, as = kind) {
  const { rate, seconds, sound, options, before = [], then } = kinds[kind];
  const file = path.join(folder, as);
  const inputs = [...numberedPicture(rate, seconds), ...(sound ? beep(seconds, 1, 0.5) : [])];
  if (then === undefined) {
    await ffmpeg([...inputs, ...options, `file:${file}`]);
    return file;
  }
  const first = path.join(folder, `first-${kind}`);
  await ffmpeg([...inputs, ...options, `file:${first}`]);
  await ffmpeg([...before, "-i", `file:${first}`, ...then, `file:${file}`]);
  return file;
}

async function ffmpeg(options) {
  const child = spawn("ffmpeg", ["-nostdin", "-v", "error", "-y", ...options], {
    stdio: ["ignore", "ignore", "pipe"],
  });
  let said = "";
  child.stderr.on("data", (text) => (said += text));
  const [code] = await once(child, "close");
  if (code !== 0) throw new Error(`ffmpeg ended with ${code}: ${said}`);
}

/** Times of the frames as ffmpeg decodes them, in seconds of the file's clock, in order. */
export function decodedTimes(file) {
  const text = execFileSync(
    "ffprobe",
    [
      "-v",
      "error",
      "-select_streams",
      "V:0",
      "-show_entries",
      "frame=pts_time",
      "-of",
      "csv=p=0",
      `file:${file}`,
    ],
    { encoding: "utf8" },
  );
  return text
    .split("\n")
    .map((line) => Number.parseFloat(line))
    .filter((time) => Number.isFinite(time));
}

/** The number in each frame as ffmpeg decodes it, null where it can't be read; `filter` turns a turned picture back. */
export function frameNumbers(file, filter) {
  const filters = [...(filter === undefined ? [] : [filter]), `scale=${width}:${height}`].join();
  const pixels = execFileSync(
    "ffmpeg",
    [
      ...["-nostdin", "-v", "error", "-i", `file:${file}`, "-map", "0:V:0", "-vf", filters],
      ...["-fps_mode", "passthrough", "-enc_time_base", "1/90000", "-pix_fmt", "rgba", "-f", "rawvideo", "-"],
    ],
    { maxBuffer: 2 ** 28 },
  );
  const bytes = 4 * width * height;
  return Array.from({ length: pixels.length / bytes }, (_, index) =>
    readFrameNumber(pixels.subarray(index * bytes, (index + 1) * bytes), width, height),
  );
}
