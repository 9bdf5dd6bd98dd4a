// What a seminar pack hides and what it leaves: the pixels under its boxes in every frame, the picture that stands once the
// lamps have settled, the sound before and after. Decoded by ffmpeg, looked at again in Chromium.

import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import path from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { launchChromium } from "../run/chromium.mjs";
import { picturesShown } from "../video/browser-pictures";
import { make, temporaryFolder } from "../video/making";
import { buildCommand, type Command } from "./command";

const size = { width: 160, height: 120 };
const rate = 25;
const halts = [6, 11.52, 18, 23.2] as const;
/** Seconds from the halt until a foil's lamps have settled, and as the masks say for the shot from 20 s on. */
const settled = (halt: number) => (halt > 20 ? 0.6 : 0.4);

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}
/** No edge of them falls between two pixels. */
const arms: Box = { x: 0.051, y: 0.303, width: 0.211, height: 0.333 };
const lamps: Box = { x: 0.431, y: 0.101, width: 0.283, height: 0.211 };
const board: Box = { x: 0.7, y: 0.7, width: 0.3, height: 0.3 };
const closeLamps: Box = { x: 0, y: 0.6, width: 0.4, height: 0.2 };

const made = temporaryFolder();
let command: Command;
let browser: Browser;

beforeAll(async () => {
  vi.stubEnv("XDG_CACHE_HOME", path.join(made, "cache"));
  [command, browser] = await Promise.all([buildCommand(), launchChromium()]);
  const any = (from: number, to: number) =>
    halts
      .map((halt) => `between(t\\,${halt + from}\\,${halt + (to < 0 ? settled(halt) - to : to)})`)
      .join("+");
  const box = ({ x, y, width, height }: Box, color: string, enable: string) =>
    `drawbox=x=iw*${x}:y=ih*${y}:w=iw*${width}:h=ih*${height}:color=${color}:t=fill:enable='${enable}'`;
  // Flickering grey; red lamps from just after each halt; the referee's signal, all white, from two frames after the lamps
  // have settled.
  const signal = halts.map((halt) => `between(t\\,${halt + settled(halt) + 0.07}\\,${halt + 1.3})`).join("+");
  const look = [
    `color=gray:size=${size.width}x${size.height}:rate=${rate}:duration=28`,
    "noise=alls=60:allf=t+u",
    box(lamps, "red", any(0.03, 2)),
    box(closeLamps, "red", any(0.03, 2)),
    box({ x: 0, y: 0, width: 1, height: 1 }, "white", signal),
  ].join();
  // The hall hums throughout; the buzzer sounds from the halt on, the referee speaks from when the lamps have settled.
  const voice = halts.map((halt) => `between(t\\,${halt + settled(halt) + 0.04}\\,${halt + 1.3})`).join("+");
  const sound = `aevalsrc=exprs='0.02*sin(2*PI*150*t)+0.3*sin(2*PI*1000*t)*(${any(0, 2)})+0.5*sin(2*PI*5000*t)*(${voice})':d=28:s=44100`;
  make(
    command.folder,
    "noise.mp4",
    ...["-f", "lavfi", "-i", look, "-f", "lavfi", "-i", sound],
    ...["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-g", "250", "-c:a", "aac"],
  );
  const phrase = (halt: number) => ({
    ...{ kind: "phrase", start: clock(halt - 1), halt: clock(halt) },
    ...{ actions: ["left attack"], award: "left" },
  });
  command.write(
    "qf.bout.json",
    JSON.stringify({
      ...{ boutline: 1, bout: { weapon: "foil", format: "pool", rules: "wheelchair-2026" } },
      fencers: { left: { name: "Vessa Tarn" }, right: { name: "Kel Odrey" } },
      recordings: [{ file: "noise.mp4" }],
      log: [
        ...halts.slice(0, 3).map(phrase),
        { kind: "shot", at: clock(21.4), name: "close" },
        phrase(halts[3]),
      ],
    }),
  );
  command.write(
    "qf.masks.json",
    JSON.stringify({
      masks: 1,
      shots: {
        main: { boxes: [arms], lamps: [lamps] },
        close: { boxes: [board], lamps: [closeLamps], freeze: 600 },
      },
    }),
  );
}, 120_000);
afterAll(async () => {
  vi.unstubAllEnvs();
  command.remove();
  await browser.close();
});

function clock(seconds: number): string {
  return `0:00:${seconds.toFixed(3).padStart(6, "0")}`;
}

interface Clip {
  readonly file: string;
  readonly halt: number;
}

/** A pack of all phrases. */
async function packOf(out: string, ...words: readonly string[]): Promise<readonly Clip[]> {
  const { status, errors } = await command.run("seminar", "qf.bout.json", "--out", out, ...words);
  expect(status, errors).toBe(0);
  const { clips } = JSON.parse(readFileSync(path.join(command.folder, out, "key.json"), "utf8")) as {
    clips: { file: string; source: { phrase: { at: string } } }[];
  };
  expect(clips).toHaveLength(halts.length);
  return clips.map(({ file, source }) => {
    const halt = halts.find((one) => clock(one - 1) === source.phrase.at);
    return {
      file: path.join(command.folder, out, "pack", file),
      halt: halt ?? expect.fail(source.phrase.at),
    };
  });
}

/** Every frame as red, green and blue bytes. */
function framesOf(file: string): Uint8Array[] {
  const bytes = execFileSync(
    "ffmpeg",
    ["-v", "error", "-i", file, "-f", "rawvideo", "-pix_fmt", "rgb24", "-"],
    { maxBuffer: 2 ** 28 },
  );
  const one = size.width * size.height * 3;
  return Array.from({ length: bytes.length / one }, (_, at) => bytes.subarray(at * one, (at + 1) * one));
}

/** The values of one colour inside a box, `inset` pixels from its edges. */
function inside(frame: Uint8Array, box: Box, colour: 0 | 1 | 2, inset = 0, bytes = 3): number[] {
  const from = { x: Math.ceil(box.x * size.width) + inset, y: Math.ceil(box.y * size.height) + inset };
  const to = {
    x: Math.floor((box.x + box.width) * size.width) - inset,
    y: Math.floor((box.y + box.height) * size.height) - inset,
  };
  const values: number[] = [];
  for (let y = from.y; y < to.y; y++)
    for (let x = from.x; x < to.x; x++) values.push(frame[(y * size.width + x) * bytes + colour] ?? NaN);
  expect(values.length).toBeGreaterThan(0);
  return values;
}
const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;
const most = (values: Iterable<number>) => {
  let found = -Infinity;
  for (const one of values) found = Math.max(found, one);
  return found;
};

/** By how much the values of two frames differ. */
function differenceOf(one: Uint8Array, other: Uint8Array) {
  let [sum, largest] = [0, 0];
  for (const [at, value] of one.entries()) {
    const difference = Math.abs(value - (other[at] ?? NaN));
    sum += difference;
    largest = Math.max(largest, difference);
  }
  return { mean: sum / one.length, most: largest };
}

/** Loudest sample between two times in seconds, of a full scale of 1, after a filter of ffmpeg's. */
function loudest(file: string, from: number, to: number, filter: string): number {
  const samples = execFileSync(
    "ffmpeg",
    ["-v", "error", "-i", file, "-af", filter, "-ac", "1", "-ar", "44100", "-f", "f32le", "-"],
    { maxBuffer: 2 ** 26 },
  );
  const values: number[] = [];
  for (let at = Math.round(from * 44100); at < Math.round(to * 44100) && 4 * at + 4 <= samples.length; at++)
    values.push(Math.abs(samples.readFloatLE(4 * at)));
  expect(values.length).toBeGreaterThan(1000);
  return most(values);
}

/** Seconds of the clip at which the halt and the settling of the lamps fall. */
function momentsOf({ halt }: Clip) {
  const start = halt - 1;
  // Two seconds of lead-in, though not from before the halt of the phrase before, nor from before a new shot.
  const from = Math.max(start - 2, halt > 20 ? 21.4 : 0);
  const frames = Math.round((halt + settled(halt)) * rate) - Math.round(from * rate) + 1;
  return { halt: halt - from, still: frames / rate, frames };
}
const shotOf = ({ halt }: Clip) =>
  halt > 20 ? { box: board, lamp: closeLamps } : { box: arms, lamp: lamps };

describe.each([
  ["as it is", false],
  ["with the lamps hidden as a drill", true],
])("a pack %s", (_, hideLamps) => {
  let clips: readonly Clip[];
  beforeAll(async () => {
    clips = await packOf(hideLamps ? "drill" : "plain", ...(hideLamps ? ["--hide-lamps"] : []));
  });

  test("shows nothing under its boxes in any frame, and the lamps where they are not hidden", () => {
    for (const clip of clips) {
      const { box, lamp } = shotOf(clip);
      const hidden = hideLamps ? [box, lamp] : [box];
      const { halt } = momentsOf(clip);
      for (const [place, frame] of framesOf(clip.file).entries()) {
        for (const one of hidden)
          for (const colour of [0, 1, 2] as const) {
            expect(most(inside(frame, one, colour))).toBeLessThan(64);
            expect(most(inside(frame, one, colour, 6))).toBeLessThan(24);
          }
        if (hideLamps) continue;
        const red = mean(inside(frame, lamp, 0, 4));
        const green = mean(inside(frame, lamp, 1, 4));
        if (place / rate > halt + 0.05) expect([red > 200, green < 60]).toEqual([true, true]);
        else if (place / rate < halt - 0.05) expect(Math.abs(red - green)).toBeLessThan(20);
      }
    }
  });

  test("stands still once the lamps have settled, before the signal, for a second", () => {
    for (const clip of clips) {
      const frames = framesOf(clip.file);
      const { frames: moving } = momentsOf(clip);
      expect(frames).toHaveLength(moving + rate);
      const still = frames[moving - 1] ?? expect.fail("no such frame");
      const before = frames[moving - 2] ?? expect.fail("no such frame");
      // The noise moves until then and not afterwards, but for what encoding does to a still picture.
      expect(differenceOf(before, still).mean).toBeGreaterThan(10);
      for (const frame of frames.slice(moving)) {
        const found = differenceOf(frame, still);
        expect(found.mean).toBeLessThan(2);
        expect(found.most).toBeLessThan(64);
      }
      // Nowhere the signal, which is white from edge to edge.
      for (const frame of frames)
        expect(mean(inside(frame, { x: 0.3, y: 0.4, width: 0.3, height: 0.2 }, 1))).toBeLessThan(180);
    }
  });

  test("lets the buzzer be heard, and never the referee", () => {
    for (const clip of clips) {
      const { halt, still } = momentsOf(clip);
      const buzzer = "bandpass=f=1000:width_type=h:w=200";
      expect(loudest(clip.file, 0.1, halt - 0.1, "anull")).toBeGreaterThan(0.01);
      expect(loudest(clip.file, 0.1, halt - 0.1, buzzer)).toBeLessThan(0.01);
      expect(loudest(clip.file, halt + 0.1, still - 0.05, buzzer)).toBeGreaterThan(0.15);
      // The encoder blurs an end over a packet of its own, 1,152 samples.
      expect(loudest(clip.file, still, still + 0.04, "anull")).toBeLessThan(0.2);
      expect(loudest(clip.file, still + 0.04, still + 0.95, "anull")).toBeLessThan(0.001);
      const report = spawnReport(clip.file, still + 0.04);
      expect(Number(/max_volume: (-?[\d.]+) dB/.exec(report)?.[1] ?? NaN)).toBeLessThan(-60);
      expect(loudest(clip.file, 0, still - 0.04, "highpass=f=4000,highpass=f=4000")).toBeLessThan(0.02);
    }
  });

  test("looks the same in Chromium", async () => {
    const [clip] = clips;
    if (clip === undefined) return expect.fail("no clip");
    const { halt, still } = momentsOf(clip);
    const { box, lamp } = shotOf(clip);
    const times = [0.02, halt - 0.3, halt + 0.22, still - 0.02, still + 0.5, still + 0.97];
    const shown = await picturesShown(browser, clip.file, times, size);
    for (const picture of shown) expect(most(inside(picture, box, 1, 6, 4))).toBeLessThan(24);
    const red = shown.map((picture) => mean(inside(picture, lamp, 0, 4, 4)));
    expect(red.slice(2).every((value) => (hideLamps ? value < 24 : value > 200))).toBe(true);
    const [frozen, ...after] = shown
      .slice(3)
      .map((picture) => inside(picture, { x: 0, y: 0.7, width: 0.6, height: 0.3 }, 1, 4, 4));
    for (const one of after)
      expect(mean(one.map((value, at) => Math.abs(value - (frozen?.[at] ?? 0))))).toBeLessThan(3);
  });
});

/** What ffmpeg itself says of how loud a clip is from a time on. */
function spawnReport(file: string, from: number): string {
  return execFileSync(
    "sh",
    [
      "-c",
      'ffmpeg -nostdin -hide_banner -i "$0" -af "atrim=start=$1,volumedetect" -f null - 2>&1',
      file,
      from.toFixed(3),
    ],
    { encoding: "utf8" },
  );
}
