// What a browser makes of the media server: the frames it shows bear the times of the frame table, and a view's page,
// but no other, may read the picture.

import path from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { MediaServer } from "../../src/host/media-server";
import { make, picture, plain, reordered, temporaryFolder, tone, varyingRate } from "../video/making";

const folder = temporaryFolder();
/** Where the browser workbench shows its views. */
const view = "https://0a1b2c3d4e.vscode-cdn.net";
const elsewhere = "https://elsewhere.example";

const server = new MediaServer({
  cacheDir: path.join(folder, "cache"),
  trusted: () => true,
  asExternal: (address) => Promise.resolve(address),
});
let browser: Browser;

beforeAll(async () => {
  const chromium = new URL("../run/chromium.mjs", import.meta.url).href;
  const { launchChromium } = (await import(chromium)) as { launchChromium: () => Promise<Browser> };
  browser = await launchChromium();
});

afterAll(async () => {
  server.dispose();
  await browser.close();
});

/** An empty page at that origin; nothing is fetched from there. */
async function pageAt(origin: string): Promise<Page> {
  const page = await browser.newPage();
  // Chromium asks its user before a page from the network may reach this machine.
  await page.context().grantPermissions(["local-network-access"], { origin });
  await page.route(`${origin}/**`, (route) =>
    route.fulfill({ contentType: "text/html", body: "<!doctype html><title>page</title>" }),
  );
  await page.goto(`${origin}/`);
  return page;
}

interface Shown {
  /** Frame sought, and `mediaTime` of the frame then shown. */
  readonly frames: readonly { readonly index: number; readonly mediaTime: number }[];
  readonly times: readonly number[];
  readonly first: number;
}

/** Seeks each of some frames half-way between its time and the next one's, and notes which frame is shown. */
async function shownBy(page: Page, address: string, frames: string): Promise<Shown> {
  return page.evaluate(
    async ([address, frames]) => {
      const answer = await fetch(frames);
      if (!answer.ok) throw new Error(await answer.text());
      const first = Number(answer.headers.get("First-Frame"));
      const times = [...new Float64Array(await answer.arrayBuffer())];
      const video = document.createElement("video");
      video.crossOrigin = "anonymous";
      video.muted = true;
      video.preload = "auto";
      video.src = address;
      await new Promise((resolve, reject) => {
        video.onloadeddata = resolve;
        video.onerror = () => reject(new Error(video.error?.message));
      });
      // At first Chromium believes the file's header, which may leave out that the first frame is late, and cuts seeks
      // to that length; it learns the true one as it reads on.
      while (video.duration < first + (times.at(-1) ?? 0) - 0.001)
        await new Promise((resolve) => {
          video.addEventListener("durationchange", resolve, { once: true });
        });
      const shown: { index: number; mediaTime: number }[] = [];
      // Never twice the same in a row: a frame that is shown already is not reported again.
      for (const index of [7, 0, times.length - 1, 1, 20, 19, 21, 33, 2, 40, times.length - 2]) {
        const own = times[index] ?? 0;
        const next = times[index + 1] ?? own + own - (times[index - 1] ?? 0);
        const reported = new Promise<number>((resolve) => {
          video.requestVideoFrameCallback((_, frame) => resolve(frame.mediaTime));
        });
        video.currentTime = first + (own + next) / 2;
        shown.push({ index, mediaTime: await reported });
      }
      return { frames: shown, times, first };
    },
    [address, frames] as const,
  );
}

describe("In Chromium the frame shown bears the time the table gives it, plus that of the first frame", () => {
  const prompt = make(folder, "prompt.mp4", ...picture("25", 2), ...plain);
  const withSound = [...tone(3), "-map", "0:v", "-map", "1:a", "-c:v", "copy", "-c:a", "libmp3lame"];
  const long = make(folder, "long.mp4", ...picture("25", 4), ...tone(4), ...reordered, "-c:a", "libmp3lame");

  it.each([
    ["constant 25 frames a second", prompt, 0],
    ["30000/1001 frames a second", make(folder, "broadcast.mp4", ...picture("30000/1001", 2), ...plain), 0],
    ["a varying rate", make(folder, "variable.mp4", ...picture("30", 2), ...varyingRate, ...plain), 0],
    [
      "frames stored out of order, with an edit list",
      make(folder, "reordered.mp4", ...picture("25", 2), ...reordered),
      0,
    ],
    [
      "frames stored out of order, without an edit list",
      make(folder, "unedited.mp4", ...picture("25", 2), ...reordered, "-use_editlist", "0"),
      0.08,
    ],
    [
      "fragments",
      make(
        folder,
        "fragments.mp4",
        ...picture("25", 2),
        ...reordered,
        "-movflags",
        "frag_keyframe+empty_moov",
      ),
      0.08,
    ],
    ["a cut between key frames", make(folder, "cut.mp4", "-ss", "1.32", "-i", long, "-c", "copy"), 0],
    [
      "a picture that begins after the sound",
      make(folder, "late.mp4", "-itsoffset", "0.5", "-i", prompt, ...withSound),
      0.5,
    ],
  ])("%s", async (_, file, begins) => {
    const { address, frames, problem } = await server.serve(file, "viewer");
    if (address === null || frames === null) throw new Error(problem);
    const page = await pageAt(view);
    const { frames: shown, times, first } = await shownBy(page, address, frames);
    await page.close();
    expect(first).toBeCloseTo(begins, 6);
    const wrong = shown.filter(
      // Chromium counts in microseconds.
      ({ index, mediaTime }) => !(Math.abs(mediaTime - first - (times[index] ?? NaN)) < 2e-6),
    );
    expect(shown.length).toBe(11);
    expect(wrong).toEqual([]);
  });
});

describe("Reading the picture", () => {
  const source = make(folder, "pixels.mp4", ...picture("25", 1), ...plain);

  /** What a page gets of a recording: a pixel, or why not. */
  async function pixel(origin: string, address: string): Promise<string> {
    const page = await pageAt(origin);
    const got = await page.evaluate(async (address) => {
      const video = document.createElement("video");
      video.crossOrigin = "anonymous";
      video.muted = true;
      video.preload = "auto";
      video.src = address;
      const loaded = await new Promise<boolean>((resolve) => {
        video.onloadeddata = () => resolve(true);
        video.onerror = () => resolve(false);
      });
      if (!loaded) return "not loaded";
      const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
      const context = canvas.getContext("2d");
      context?.drawImage(video, 0, 0);
      return `pixels ${context?.getImageData(0, 0, 64, 36).data.length ?? 0}`;
    }, address);
    await page.close();
    return got;
  }

  it("is open to the page of a view and to no other page, even one that knows the address", async () => {
    const { address, problem } = await server.serve(source, "viewer");
    if (address === null) throw new Error(problem);
    expect(await pixel(view, address)).toBe(`pixels ${64 * 36 * 4}`);
    expect(await pixel(elsewhere, address)).toBe("not loaded");
  });
});
