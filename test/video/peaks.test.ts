import { readdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import { type Peaks, soundPeaks } from "../../src/video/index";
import { PeakCollector } from "../../src/video/peaks";
import { make, picture, plain, temporaryFolder } from "./making";
import { beep } from "./samples.mjs";

const folder = temporaryFolder();
const cacheDir = path.join(folder, "kept");

async function peaks(file: string, part?: (from: number, values: Uint8Array) => void): Promise<Peaks | null> {
  const result = await soundPeaks(file, { cacheDir, part });
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
}

/** First and last hundredth that is loud. */
function loud(found: Peaks | null): (number | undefined)[] {
  const places = Array.from(found?.values ?? []).flatMap((value, index) => (value > 64 ? [index] : []));
  return [places.at(0), places.at(-1)];
}

describe("The buzzer shows where it sounds, counted from the first frame", () => {
  const sound = beep(3, 1, 0.5);

  it("in a recording whose picture and sound begin together", async () => {
    const file = make(folder, "together.mkv", ...picture("25", 3), ...sound, ...plain, "-c:a", "pcm_s16le");
    const found = await peaks(file);
    expect(found?.perSecond).toBe(100);
    const [from, to] = loud(found);
    expect(from).toBe(100);
    expect(to).toBeGreaterThanOrEqual(149);
    expect(to).toBeLessThanOrEqual(150);
    // 0.8 of the largest sample; resampled, it stays within a twentieth.
    expect(Math.abs(Math.max(...(found?.values ?? [])) - 0.8 * 256)).toBeLessThan(0.05 * 256);
    expect(found?.values[50]).toBe(0);
  });

  it("where the sound begins half a second after the picture", async () => {
    const sources = [...picture("25", 3), "-itsoffset", "0.5", ...sound];
    const [from] = loud(await peaks(make(folder, "after.ts", ...sources, ...plain, "-c:a", "libmp3lame")));
    expect(Math.abs((from ?? 0) - 150)).toBeLessThanOrEqual(3);
  });

  it("where the picture begins 0.48 s after the sound", async () => {
    const sources = ["-itsoffset", "0.48", ...picture("25", 3), ...sound, "-fps_mode", "passthrough"];
    const [from] = loud(await peaks(make(folder, "before.mkv", ...sources, ...plain, "-c:a", "pcm_s16le")));
    expect(Math.abs((from ?? 0) - 52)).toBeLessThanOrEqual(1);
  });
});

it("They come in portions, in order, and are kept for the next time", async () => {
  const file = make(
    folder,
    "long.mkv",
    ...picture("1", 25),
    ...beep(25, 12, 1),
    ...plain,
    "-c:a",
    "pcm_s16le",
  );
  const parts: [number, Uint8Array][] = [];
  const found = await peaks(file, (from, values) => parts.push([from, values]));
  expect(parts.length).toBeGreaterThan(1);
  expect(parts.map(([from]) => from)).toEqual(
    parts.map((_, index) => parts.slice(0, index).reduce((sum, [, values]) => sum + values.length, 0)),
  );
  expect(Buffer.concat(parts.map(([, values]) => values))).toEqual(Buffer.from(found?.values ?? []));
  const kept = await soundPeaks(file, { cacheDir, ffmpegPath: path.join(folder, "no-ffmpeg-here") });
  expect(kept).toEqual({ ok: true, value: found });
});

it("A recording without sound has none, and that is remembered", async () => {
  const file = make(folder, "silent.mp4", ...picture("25", 1), ...plain);
  expect(await peaks(file)).toBeNull();
  const kept = await soundPeaks(file, { cacheDir, ffmpegPath: path.join(folder, "no-ffmpeg-here") });
  expect(kept).toEqual({ ok: true, value: null });
});

it("Given up, nothing is kept", async () => {
  const file = make(folder, "given-up.mkv", ...picture("25", 1), ...beep(1, 0), ...plain);
  const own = path.join(folder, "given-up");
  const stop = AbortSignal.abort();
  expect(await soundPeaks(file, { cacheDir: own, signal: stop })).toMatchObject({
    problem: { rule: "cancelled" },
  });
});

it("A text called .mp4 has no sound to show, and says so", async () => {
  const file = path.join(folder, "text.mp4");
  writeFileSync(file, "nothing to hear");
  expect(await soundPeaks(file, { cacheDir })).toMatchObject({ problem: { rule: "recording-unreadable" } });
});

it("Samples cut anywhere give the same peaks", () => {
  const samples = Int16Array.from({ length: 1000 }, (_, index) =>
    index === 500 ? -32_768 : (index * 37) % 9000,
  );
  const bytes = new Uint8Array(samples.buffer);
  const whole = new PeakCollector(() => undefined);
  whole.add(bytes);
  const cut = new PeakCollector(() => undefined);
  for (const byte of bytes) cut.add(Uint8Array.of(byte));
  const found = whole.end();
  expect(cut.end()).toEqual(found);
  // 80 samples a hundredth.
  expect(found.length).toBe(13);
  expect(found[6]).toBe(255);
});

it("Nothing half-made is left", () => {
  expect(readdirSync(cacheDir).filter((name) => !/\.(frames|peaks)$/.test(name))).toEqual([]);
});
