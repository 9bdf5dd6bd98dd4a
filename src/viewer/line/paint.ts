// Draws a laid-out phrase line in the theme's text colours. Shapes and words carry the meaning, never a colour.

import type { Colours } from "../theme";
import type { Block, LineLayout, Sign } from "./layout";
import { paintSound } from "./sound-band";

/** Heights from the top of the line, in pixels; without sound or drift what stands below moves up into its room. */
export function rowsFor(withSound: boolean, withDrift: boolean) {
  const drift = rows.drift - (withSound ? 0 : soundRoom);
  const up = (withSound ? 0 : soundRoom) + (withDrift ? 0 : driftRoom);
  return { drift, ticks: rows.ticks - up, height: rows.height - up };
}
const soundRoom = 18;
const driftRoom = 20;
const rows = {
  wordsAbove: 11,
  numbersAbove: 25,
  top: 31,
  centre: 52,
  bottom: 73,
  numbersBelow: 84,
  wordsBelow: 97,
  soundBottom: 117,
  soundHeight: 14,
  drift: 130,
  driftReach: 8,
  ticks: 150,
  height: 156,
} as const;

export const centre = rows.centre;
const blockHeight = rows.centre - rows.top;

export interface Fonts {
  readonly words: string;
  readonly numbers: string;
}

export function paintLine(
  canvas: CanvasRenderingContext2D,
  width: number,
  layout: LineLayout,
  sound: Float32Array | undefined,
  colours: Colours,
  fonts: Fonts,
): void {
  const { ticks, height, drift } = rowsFor(sound !== undefined, layout.drift.length > 0);
  canvas.clearRect(0, 0, width, height);
  canvas.lineWidth = 1;
  paintTicks(canvas, layout, ticks, colours, fonts);
  canvas.fillStyle = colours.quiet;
  canvas.fillRect(0, rows.centre - 0.5, width, 1);
  for (const block of layout.blocks) paintBlock(canvas, block, colours, fonts);
  for (const sign of layout.signs) paintSign(canvas, sign, colours, fonts);
  if (sound !== undefined) paintSound(canvas, sound, rows.soundBottom, rows.soundHeight, colours);
  paintDrift(canvas, layout, drift, colours);
}

function paintTicks(
  canvas: CanvasRenderingContext2D,
  layout: LineLayout,
  y: number,
  colours: Colours,
  fonts: Fonts,
): void {
  canvas.font = fonts.words;
  canvas.fillStyle = colours.quiet;
  canvas.textAlign = "left";
  for (const { x, words } of layout.ticks) {
    canvas.globalAlpha = 0.35;
    canvas.fillRect(Math.round(x), y - 9, 1, 12);
    canvas.globalAlpha = 1;
    canvas.fillText(words, Math.round(x) + 4, y);
  }
}

function paintBlock(canvas: CanvasRenderingContext2D, block: Block, colours: Colours, fonts: Fonts): void {
  const { x, width, half, state } = block;
  canvas.fillStyle = colours.block;
  canvas.strokeStyle = colours.text;
  const left = Math.round(x);
  const wide = Math.max(2, Math.round(width));
  if (state === "touch") {
    const top = half === "below" ? rows.centre + 1 : rows.top;
    canvas.globalAlpha = colours.highContrast ? 1 : 0.75;
    canvas.fillRect(left, top, wide, half === "across" ? 2 * blockHeight : blockHeight - 1);
    canvas.globalAlpha = 1;
  } else {
    const high = state === "none" ? 8 : 16;
    canvas.clearRect(left, rows.centre - high / 2, wide, high);
    canvas.setLineDash(state === "none" ? [] : [2, 2]);
    canvas.strokeStyle = state === "none" ? colours.quiet : colours.text;
    canvas.strokeRect(left + 0.5, rows.centre - high / 2 + 0.5, Math.max(1, wide - 1), high - 1);
    canvas.setLineDash([]);
    if (state !== "none") {
      canvas.font = fonts.numbers;
      canvas.fillStyle = colours.text;
      canvas.textAlign = "center";
      canvas.fillText(state === "open" ? "…" : "?", left + wide / 2, rows.centre + 4);
    }
  }
  canvas.font = fonts.numbers;
  canvas.fillStyle = colours.text;
  canvas.textAlign = "center";
  if (block.label !== "")
    canvas.fillText(block.label, left + wide / 2, half === "below" ? rows.numbersBelow : rows.numbersAbove);
  if (block.picked) pointer(canvas, left + wide / 2, half, colours);
  if (block.item.star) star(canvas, left + wide / 2, half === "below" ? rows.centre - 8 : rows.centre + 9);
}

function paintSign(canvas: CanvasRenderingContext2D, sign: Sign, colours: Colours, fonts: Fonts): void {
  const x = Math.round(sign.x);
  const away = sign.half === "below" ? 1 : -1;
  canvas.strokeStyle = colours.text;
  canvas.fillStyle = colours.background;
  canvas.beginPath();
  switch (sign.shape) {
    case "card":
      canvas.rect(x - 3.5, rows.centre + away * 14 - 5.5, 7, 10);
      canvas.fill();
      canvas.stroke();
      break;
    case "review":
      canvas.rect(x - 4.5, rows.centre + away * 12 - 4.5, 9, 9);
      canvas.fill();
      canvas.stroke();
      break;
    case "stop": {
      canvas.setLineDash([1, 3]);
      canvas.moveTo(x + 0.5, rows.top - 2);
      canvas.lineTo(x + 0.5, rows.bottom + 2);
      canvas.stroke();
      canvas.setLineDash([]);
      const until = Math.round(sign.until);
      if (until - x > 3) {
        canvas.clearRect(x + 2, rows.centre - 1, until - x - 2, 2);
        canvas.setLineDash([1, 3]);
        canvas.beginPath();
        canvas.moveTo(x, rows.centre + 0.5);
        canvas.lineTo(until, rows.centre + 0.5);
        canvas.stroke();
        canvas.setLineDash([]);
      }
      break;
    }
    case "bar":
      canvas.fillStyle = colours.text;
      canvas.fillRect(x, rows.top - 4, 1, rows.bottom - rows.top + 8);
      break;
    case "dot":
      canvas.fillStyle = colours.text;
      canvas.arc(x, rows.centre + away * 5, 1.75, 0, Math.PI * 2);
      canvas.fill();
      break;
    case "cross":
      canvas.fillStyle = colours.quiet;
      canvas.fillRect(x - 3, rows.centre - 13, 7, 1);
      canvas.fillRect(x, rows.centre - 16, 1, 7);
      break;
  }
  if (sign.words === "") return;
  canvas.font = fonts.words;
  canvas.textAlign = "left";
  canvas.fillStyle = colours.quiet;
  canvas.fillText(sign.words, sign.wordsX, sign.wordsAbove ? rows.wordsAbove : rows.wordsBelow);
}

function paintDrift(
  canvas: CanvasRenderingContext2D,
  layout: LineLayout,
  middle: number,
  colours: Colours,
): void {
  const reach = Math.max(0.05, ...layout.drift.flat().map(({ along }) => Math.abs(along)));
  canvas.strokeStyle = colours.quiet;
  canvas.fillStyle = colours.quiet;
  canvas.lineWidth = 1.25;
  const y = (along: number): number => middle - (along / reach) * rows.driftReach;
  for (const line of layout.drift) {
    canvas.beginPath();
    line.forEach(({ x, along }, index) => {
      if (index === 0) canvas.moveTo(x, y(along));
      else canvas.lineTo(x, y(along));
    });
    canvas.stroke();
    for (const { x, along } of line) canvas.fillRect(x - 1.25, y(along) - 1.25, 2.5, 2.5);
  }
}

/** Points at a picked phrase, whatever its state, from the side where neither its block nor its number stands. */
function pointer(canvas: CanvasRenderingContext2D, x: number, half: Block["half"], colours: Colours): void {
  const tip = half === "below" ? rows.centre - 15 : half === "across" ? rows.bottom + 2 : rows.centre + 15;
  const base = tip + (half === "below" ? -6 : 6);
  canvas.fillStyle = colours.text;
  canvas.beginPath();
  canvas.moveTo(x - 4.5, base);
  canvas.lineTo(x + 4.5, base);
  canvas.lineTo(x, tip);
  canvas.closePath();
  canvas.fill();
}

function star(canvas: CanvasRenderingContext2D, x: number, y: number): void {
  canvas.beginPath();
  for (let point = 0; point < 10; point += 1) {
    const angle = (point * Math.PI) / 5 - Math.PI / 2;
    const radius = point % 2 === 0 ? 4.5 : 1.9;
    canvas.lineTo(x + Math.cos(angle) * radius, y + Math.sin(angle) * radius);
  }
  canvas.closePath();
  canvas.fill();
}
