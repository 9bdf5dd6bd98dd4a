// Reads a small recording's frames off the page: which one is shown by its own number, by the page's word, and whether
// it is heard.
import { readFrameNumber } from "../demo/frame-number.mjs";

/** A pixel for each block of the number along the bottom edge. */
const across = 60;
const down = 45;

/** In the page: what the viewer shows now, or, to watch it, each frame drawn by itself until `window.endWatch`. */
function look(body, { across, down, quarters, isWatch }) {
  const seen = () => {
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
  };
  if (!isWatch) return seen();
  const frames = [];
  const observer = new MutationObserver(() => {
    const now = seen();
    if (now.drawn !== true) return;
    frames.push(now);
    // Its number is written with the page's next picture.
    requestAnimationFrame(() => (now.label = seen().label));
  });
  observer.observe(body.querySelector(".film"), { subtree: true, attributeFilter: ["hidden"] });
  window.endWatch = () => {
    observer.disconnect();
    return frames;
  };
  return undefined;
}

/** With the frame's number in the picture, and the one the page names. */
function numbered({ pixels, ...rest }) {
  return {
    ...rest,
    pixels,
    number: pixels === null ? null : readFrameNumber(pixels, across, down),
    /** As the page counts it. */
    frame: /\d/.test(rest.label) ? Number(rest.label.replace(/\D/g, "")) : null,
  };
}

/**
 * What the viewer shows now.
 *
 * @param {import("playwright-core").FrameLocator} viewer
 * @param {number} quarters quarter turns that bring the picture back to how it was drawn
 */
export async function shown(viewer, quarters = 0) {
  const args = { across, down, quarters, isWatch: false };
  return numbered(await viewer.locator("body").evaluate(look, args));
}

/**
 * Watches in the page which frames are drawn by themselves: each is seen for less than half a second, which a slow
 * machine takes to answer from outside.
 *
 * @param {import("playwright-core").FrameLocator} viewer
 * @param {number} quarters quarter turns that bring the picture back to how it was drawn
 * @returns {Promise<() => Promise<object[]>>} ends the watching and tells what was seen, as `shown` does
 */
export async function watchDrawn(viewer, quarters = 0) {
  const body = viewer.locator("body");
  await body.evaluate(look, { across, down, quarters, isWatch: true });
  return async () => (await body.evaluate(() => window.endWatch())).map(numbered);
}
