import { execFileSync } from "node:child_process";
import { statSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { lampPlaces } from "./apparatus.mjs";
import { height, width } from "./camera.mjs";
import { recording } from "./demo-file";
import { readFrameNumber } from "./frame-number.mjs";
import { frames, lampsAt, phrases } from "./timeline.mjs";
import { edgesInImage } from "./truth.mjs";

function runTool(tool: "ffmpeg" | "ffprobe", options: string[]): Buffer {
  try {
    return execFileSync(tool, options, { maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] });
  } catch (cause) {
    if (cause instanceof Error && "code" in cause && cause.code === "ENOENT") {
      throw new Error(`${tool} is needed to check the demo recording and was not found; install ffmpeg`, {
        cause,
      });
    }
    throw cause;
  }
}

/** Frames of the recording by number, decoded to RGBA at a size. */
function decoded(numbers: readonly number[], wide: number, high: number): Uint8Array[] {
  const chosen = numbers.map((number) => `eq(n\\,${number})`).join("+");
  const filter = `select='${chosen}',scale=${wide}:${high}`;
  const raw = runTool("ffmpeg", [
    ...["-v", "error", "-i", `file:${recording}`, "-vf", filter, "-vsync", "0"],
    ...["-f", "rawvideo", "-pix_fmt", "rgba", "pipe:1"],
  ]);
  const size = wide * high * 4;
  expect(raw.length).toBe(numbers.length * size);
  return numbers.map((_, index) => raw.subarray(index * size, (index + 1) * size));
}

describe("the demo's recording", () => {
  const sampled = Array.from({ length: 24 }, (_, index) => Math.round((index * (frames - 1)) / 23));
  let pictures: Uint8Array[] = [];
  beforeAll(() => {
    pictures = decoded(sampled, width, height);
  }, 120_000);

  it("is at most 5 MB", () => {
    expect(statSync(recording).size).toBeLessThanOrEqual(5_000_000);
  });

  it("is H.264 and MP3, 960 by 540, 25 frames a second without a gap, a key frame every 12 frames at most", () => {
    const options = ["-v", "error", "-show_streams", "-show_packets", "-select_streams", "v", "-of", "json"];
    const probed = JSON.parse(runTool("ffprobe", [...options, `file:${recording}`]).toString()) as {
      streams: Record<string, unknown>[];
      packets: { pts_time: string; dts_time: string; flags: string }[];
    };
    const video = probed.streams[0] ?? {};
    expect(video).toMatchObject({ codec_name: "h264", width, height, pix_fmt: "yuv420p", has_b_frames: 0 });
    expect(probed.packets.length).toBe(frames);
    let lastKey = 0;
    probed.packets.forEach((packet, frame) => {
      expect(Math.abs(Number(packet.pts_time) - frame * 0.04)).toBeLessThan(1e-4);
      expect(packet.dts_time).toBe(packet.pts_time);
      if (packet.flags.startsWith("K")) lastKey = frame;
      expect(frame - lastKey).toBeLessThan(12);
    });
    const streams = runTool("ffprobe", [
      "-v",
      "error",
      "-show_entries",
      "stream=codec_name",
      "-of",
      "csv=p=0",
      recording,
    ]);
    expect(streams.toString().split(/\s+/).filter(Boolean)).toEqual(["h264", "mp3"]);
  }, 60_000);

  it("carries a frame number that reads right at full size and in a copy of half the size", () => {
    expect(pictures.map((pixels) => readFrameNumber(pixels, width, height))).toEqual(sampled);
    const few = sampled.filter((_, index) => index % 6 === 0);
    const small = decoded(few, width / 2, height / 2);
    expect(small.map((pixels) => readFrameNumber(pixels, width / 2, height / 2))).toEqual(few);
  }, 120_000);

  it("refuses a frame number whose parity is wrong", () => {
    const pixels = Uint8Array.from(pictures[5] ?? expect.fail("no picture"));
    const [x, y] = [17.5 * (width / 60), height - 6];
    const middle = 4 * (Math.floor(y) * width + Math.floor(x));
    const turned = (pixels[middle] ?? 0) > 128 ? 0 : 255;
    for (let row = height - 12; row < height; row++) {
      pixels.fill(turned, 4 * (row * width + 17 * 16), 4 * (row * width + 18 * 16));
    }
    expect(readFrameNumber(pixels, width, height)).toBeNull();
  });

  it("shows the platforms' corners where the truth has them", () => {
    pictures.forEach((pixels, index) => {
      const { left, right } = edgesInImage(sampled[index] ?? 0);
      for (const [u, v] of [...left, ...right]) {
        // The corner posts are near white and three centimetres high; the piste around them is dark.
        const light = (x: number, y: number) => pixels[4 * (Math.round(y) * width + Math.round(x)) + 1] ?? 0;
        const at = Math.max(...[-1, 0, 1].map((aside) => light(u * width + aside, v * height - 2)));
        expect(at).toBeGreaterThan(165);
        expect(light(u * width, v * height + 5)).toBeLessThan(120);
      }
    });
  });

  it("shows the lamps that the truth says are lit, and no others", () => {
    const moments = phrases.filter((_, index) => index % 3 === 0).flatMap(({ start, halt }) => [start, halt]);
    decoded(moments, width, height).forEach((pixels, index) => {
      const frame = moments[index] ?? 0;
      for (const side of ["left", "right"] as const) {
        for (const lamp of ["valid", "off-target"] as const) {
          const [x, y] = lampPlaces[side][lamp];
          const at = 4 * (Math.round(y - 3) * width + Math.round(x));
          const brightest = Math.max(...pixels.subarray(at, at + 3));
          const said = `${side} ${lamp} at frame ${frame}`;
          if (lampsAt(frame)[side] === lamp) expect(brightest, said).toBeGreaterThan(200);
          else expect(brightest, said).toBeLessThan(120);
        }
      }
    });
  }, 120_000);
});
