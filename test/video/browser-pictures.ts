// A clip as a browser shows it: the pixels at given times.

import { readFileSync } from "node:fs";
import type { Browser } from "playwright-core";

export interface PictureSize {
  readonly width: number;
  readonly height: number;
}

/** Pixels, four bytes each (red, green, blue, opacity), of the pictures shown when sought to these times in seconds. */
export async function picturesShown(
  browser: Browser,
  file: string,
  times: readonly number[],
  { width, height }: PictureSize,
): Promise<Uint8Array[]> {
  const page = await browser.newPage();
  const pictures = await page.evaluate(
    async ({ bytes, times, width, height }) => {
      const data = Uint8Array.from(atob(bytes), (letter) => letter.charCodeAt(0));
      const video = document.createElement("video");
      video.muted = true;
      video.src = URL.createObjectURL(new Blob([data], { type: "video/mp4" }));
      const once = (name: string) =>
        new Promise((resolve, reject) => {
          video.addEventListener(name, resolve, { once: true });
          video.addEventListener("error", () => reject(new Error(video.error?.message)), { once: true });
        });
      await once("loadeddata");
      const context = new OffscreenCanvas(width, height).getContext("2d");
      const pictures: string[] = [];
      for (const time of times) {
        // A seek can be over before its frame is there; a frame that is on screen already may not be told again.
        const presented = new Promise((resolve) => video.requestVideoFrameCallback(resolve));
        video.currentTime = time;
        await once("seeked");
        await Promise.race([presented, new Promise((resolve) => setTimeout(resolve, 1000))]);
        context?.drawImage(video, 0, 0, width, height);
        let letters = "";
        for (const value of context?.getImageData(0, 0, width, height).data ?? [])
          letters += String.fromCharCode(value);
        pictures.push(btoa(letters));
      }
      return pictures;
    },
    { bytes: readFileSync(file).toString("base64"), times, width, height },
  );
  await page.close();
  return pictures.map((pixels) => Uint8Array.from(Buffer.from(pixels, "base64")));
}
