// Clips as a browser shows them: their ends by the number in the pixels, their captions by its own WebVTT parser.

import path from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { cutClips, type ClipPlan } from "../../src/video/clips";
import { webVtt } from "../../src/video/clips/captions";
import { readFrameNumber } from "../demo/frame-number.mjs";
import { launchChromium } from "../run/chromium.mjs";
import { picturesShown } from "./browser-pictures";
import { make, temporaryFolder } from "./making";
import { height, numberedPicture, width } from "./samples.mjs";

const folder = temporaryFolder();
let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());

/** Numbers of the frames shown when sought to these times. */
async function shownAt(file: string, times: readonly number[]): Promise<(number | null)[]> {
  const pictures = await picturesShown(browser, file, times, { width, height });
  return pictures.map((pixels) => readFrameNumber(pixels, width, height));
}

describe("in Chromium", () => {
  test("each clip begins and ends on the frame asked for", async () => {
    const source = make(
      folder,
      "long.mp4",
      ...numberedPicture("50", 12),
      ...["-f", "lavfi", "-i", "sine=frequency=440:duration=12", "-c:v", "libx264", "-preset", "ultrafast"],
      ...["-pix_fmt", "yuv420p", "-g", "250", "-bf", "3", "-sc_threshold", "0", "-c:a", "aac"],
    );
    const ends = [
      [0, 40],
      [133, 190],
      [480, 599],
    ] as const;
    const plan = ends.map(([first, last]): ClipPlan => {
      return { source, from: first / 50, to: last / 50, name: `from-${first}` };
    });
    const into = path.join(folder, "clips");
    const made = await cutClips(plan, { cacheDir: path.join(folder, "tables"), folder: into });
    expect(made.ok || made.problem.message).toBe(true);
    for (const [first, last] of ends) {
      const times = [0.01, (last - first) / 50 + 0.01];
      expect(await shownAt(path.join(into, `from-${first}.mp4`), times)).toEqual([first, last]);
    }
  });

  test("the call is read by its own WebVTT parser, whatever is in it", async () => {
    const hostile = "<b>touch</b> & --> 00:00\n\nNOTE left\r\nright";
    const text = webVtt(
      [
        { from: 12.5, to: 14, text: "left attack: touch left" },
        { from: 3599.9996 + 12, to: 3604 + 12, text: hostile },
        { from: 1, to: 2, text: "before the clip" },
      ],
      12,
      3603,
    );
    const page = await browser.newPage();
    const cues = await page.evaluate(async (text) => {
      const video = document.createElement("video");
      const track = document.createElement("track");
      track.src = URL.createObjectURL(new Blob([text], { type: "text/vtt" }));
      video.append(track);
      document.body.append(video);
      track.track.mode = "hidden";
      await new Promise((resolve, reject) => {
        track.addEventListener("load", resolve);
        track.addEventListener("error", () => reject(new Error("no WebVTT")));
      });
      return [...(track.track.cues ?? [])].map((cue) => ({
        from: cue.startTime,
        to: cue.endTime,
        text: (cue as VTTCue).getCueAsHTML().textContent,
      }));
    }, text);
    await page.close();
    expect(cues).toEqual([
      { from: 0.5, to: 2, text: "left attack: touch left" },
      { from: 3600, to: 3603, text: "<b>touch</b> & --> 00:00 NOTE left right" },
    ]);
  });
});
