// The sound under the phrase line: how loud each pixel's stretch of time is, drawn as a low band in the theme's text
// colours. What stands out of the hall's noise, above all the buzzer, is drawn strong.

import { levelsPerSecond, type SoundLevels } from "../sound-levels";
import type { Colours } from "../theme";
import { timeAt, type Window } from "./layout";

/** For each column of pixels the loudest level in it, from 0 to 1 of the loudest of all; NaN where none is known. */
export function soundColumns({ levels, loudest, offset }: SoundLevels, window: Window): Float32Array {
  const columns = new Float32Array(Math.max(0, Math.round(window.width)));
  const indexAt = (x: number): number => ((timeAt(window, x) - offset) / 1000) * levelsPerSecond;
  for (let x = 0; x < columns.length; x += 1) {
    const from = Math.floor(indexAt(x));
    const to = Math.max(from + 1, Math.floor(indexAt(x + 1)));
    let most = -1;
    for (let index = Math.max(0, from); index < Math.min(to, levels.length); index += 1)
      most = Math.max(most, levels[index] ?? 0);
    columns[x] = most < 0 ? NaN : most / loudest;
  }
  return columns;
}

/** What is at least this loud, in parts of the loudest, stands out. */
const strong = 0.7;

export function paintSound(
  canvas: CanvasRenderingContext2D,
  columns: Float32Array,
  bottom: number,
  height: number,
  colours: Colours,
): void {
  const bars = (wanted: (level: number) => boolean, colour: string, alpha: number) => {
    canvas.fillStyle = colour;
    canvas.globalAlpha = alpha;
    canvas.beginPath();
    columns.forEach((level, x) => {
      if (!wanted(level)) return;
      const high = Math.max(1, level * height);
      canvas.rect(x, bottom - high, 1, high);
    });
    canvas.fill();
    canvas.globalAlpha = 1;
  };
  bars((level) => level < strong, colours.quiet, colours.highContrast ? 0.8 : 0.5);
  bars((level) => level >= strong, colours.text, 1);
}
