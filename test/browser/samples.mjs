// Reads a small recording's frames off the page: which one is shown by its own number, by the page's word, and whether
// it is heard.
import { readFrameNumber } from "../demo/frame-number.mjs";

/** A pixel for each block of the number along the bottom edge. */
const across = 60;
const down = 45;

/**
 * What the viewer shows now.
 *
 * @param {import("playwright-core").FrameLocator} viewer
 * @param {number} quarters quarter turns that bring the picture back to how it was drawn
 */
export async function shown(viewer, quarters = 0) {
  const { pixels, ...rest } = await viewer.locator("body").evaluate(
    (body, [across, down, quarters]) => {
      const video = body.querySelector(".film video:not(.coming)");
      const read = (selector) => body.querySelector(selector)?.textContent ?? "";
      const words = {
        label: read(".transport .frame"),
        state: read(".media-state"),
        message: body.querySelector(".message")?.hidden === false ? read(".message") : "",
        time: body.querySelector("input.time")?.value ?? "",
      };
      const drawn = body.querySelector(".film .drawn-frame:not([hidden])");
      if (video === null || (drawn === null && video.readyState < 2)) return { ...words, pixels: null };
      const canvas = new OffscreenCanvas(across, down);
      const context = canvas.getContext("2d");
      context.translate(across / 2, down / 2);
      context.rotate((quarters * Math.PI) / 2);
      const [width, height] = quarters % 2 === 0 ? [across, down] : [down, across];
      context.drawImage(drawn ?? video, -width / 2, -height / 2, width, height);
      return {
        ...words,
        pixels: [...context.getImageData(0, 0, across, down).data],
        /** Whether a frame drawn by itself is seen. */
        drawn: drawn !== null,
        readyState: video.readyState,
        heard: video.webkitAudioDecodedByteCount > 0,
        paused: video.paused,
        rate: video.playbackRate,
        pitchKept: video.preservesPitch,
        address: video.currentSrc,
        zoom: body.querySelector(".film").style.transform,
      };
    },
    [across, down, quarters],
  );
  return {
    ...rest,
    pixels,
    number: pixels === null ? null : readFrameNumber(pixels, across, down),
    /** As the page counts it. */
    frame: /\d/.test(rest.label) ? Number(rest.label.replace(/\D/g, "")) : null,
  };
}
