// Small recordings made by ffmpeg for the tests, with frame times known from how they are made.

import { execFileSync } from "node:child_process";
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { afterAll, vi } from "vitest";

// Starting ffmpeg takes a tenth of a second on an idle machine, but seconds on a busy one.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

/** A folder that is removed after the tests of the file. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(path.join(os.tmpdir(), "boutline-video-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Runs ffmpeg in a folder; `file:` keeps names with "-" and ":" names. Answers the full path of the file made. */
export function make(folder: string, name: string, ...options: string[]): string {
  const file = path.join(folder, name);
  execFileSync("ffmpeg", ["-v", "error", "-y", ...options, `file:${file}`], { cwd: folder });
  return file;
}

/** A moving picture, 64 by 36, of so many seconds. */
export function picture(rate: string, seconds: number): string[] {
  return ["-f", "lavfi", "-i", `testsrc=size=64x36:rate=${rate}:duration=${seconds}`];
}

export function tone(seconds: number): string[] {
  return ["-f", "lavfi", "-i", `sine=frequency=440:duration=${seconds}`];
}

/** Every decoder reads it, no frame waits for a later one, a key frame each ten. */
export const plain = [
  "-c:v",
  "libx264",
  "-preset",
  "ultrafast",
  "-pix_fmt",
  "yuv420p",
  "-g",
  "10",
  "-bf",
  "0",
];

/** Frames refer to later ones, so they are stored in another order than shown. */
export const reordered = [
  ...["-c:v", "libx264", "-preset", "fast", "-pix_fmt", "yuv420p"],
  ...["-g", "25", "-bf", "3", "-b_strategy", "0", "-sc_threshold", "0"],
];

/** Frames a varying time apart: 30 a second on average, up to 12 ms late, and a pause of 0.3 s after the twentieth. */
export const varyingRate = [
  ...[
    "-vf",
    String.raw`settb=1/90000,setpts='(N/30+0.004*mod(N*7\,4)+0.3*gte(N\,20))/TB'`,
    "-fps_mode",
    "vfr",
  ],
  ...["-enc_time_base", "1/90000", "-video_track_timescale", "90000"],
];

/** When frame `index` of such a recording appears, in seconds. */
export function varyingTime(index: number): number {
  return index / 30 + 0.004 * ((index * 7) % 4) + (index >= 20 ? 0.3 : 0);
}

/** A program of the tests' own in ffprobe's place. */
export function script(folder: string, name: string, text: string): string {
  const file = path.join(folder, name);
  writeFileSync(file, `#!/bin/sh\n${text}\n`);
  chmodSync(file, 0o755);
  return file;
}

/** What ffprobe says of its version, as a shell command; `library` is the major version of libavformat in it. */
export function sayVersion(version: string, library: number): string {
  return `printf 'ffprobe version ${version} Copyright\\nlibavformat    ${library}. 27.100 / ${library}. 27.100\\n'`;
}
