// The magnifier: the picture around a point, several times larger, with a cross where the point would be placed.

import { element } from "../dom";
import type { Picture } from "../picture/picture";

const enlarge = 4;
/** Width and height on the page, in pixels. */
const size = 150;
/** Room between the point and the magnifier, in pixels. */
const aside = 24;

export class Magnifier {
  readonly #picture: Picture;
  readonly #lens = element("canvas", { class: "lens", "aria-hidden": true, hidden: true });

  constructor(picture: Picture) {
    this.#picture = picture;
    picture.box.append(this.#lens);
  }

  /** Shows the surroundings of a point, given as fractions of the frame; undefined puts the magnifier away. */
  look(at: { readonly x: number; readonly y: number } | undefined): void {
    const { video, frame } = this.#picture;
    const context = this.#lens.getContext("2d");
    this.#lens.hidden = at === undefined || frame === undefined || context === null;
    if (at === undefined || video === undefined || frame === undefined || context === null) return;
    const pixels = Math.round(size * globalThis.devicePixelRatio);
    if (this.#lens.width !== pixels) this.#lens.width = this.#lens.height = pixels;
    const shown = video.getBoundingClientRect();
    const span = (size / enlarge) * (frame.width / shown.width);
    const left = at.x * frame.width - span / 2;
    const top = at.y * frame.height - span / 2;
    context.imageSmoothingEnabled = false;
    context.clearRect(0, 0, pixels, pixels);
    context.drawImage(frame.image, left, top, span, span, 0, 0, pixels, pixels);
    drawCross(context, pixels);
    this.#placeBeside(shown.left + at.x * shown.width, shown.top + at.y * shown.height);
  }

  #placeBeside(pageX: number, pageY: number): void {
    const box = this.#picture.box.getBoundingClientRect();
    const x = pageX - box.left;
    const y = pageY - box.top;
    const beside = x + aside + size < box.width ? x + aside : x - aside - size;
    const above = y - aside - size > 0 ? y - aside - size : y + aside;
    this.#lens.style.transform = `translate(${Math.round(beside)}px, ${Math.round(above)}px)`;
  }
}

/** Black under white, to be seen on any picture. */
function drawCross(context: CanvasRenderingContext2D, pixels: number): void {
  for (const [colour, width] of [
    ["black", 3],
    ["white", 1],
  ] as const) {
    context.strokeStyle = colour;
    context.lineWidth = width * globalThis.devicePixelRatio;
    context.beginPath();
    context.moveTo(pixels / 2, pixels * 0.32);
    context.lineTo(pixels / 2, pixels * 0.68);
    context.moveTo(pixels * 0.32, pixels / 2);
    context.lineTo(pixels * 0.68, pixels / 2);
    context.stroke();
  }
}
