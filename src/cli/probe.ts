// `boutline probe`: what is in a recording, when its frames appear, and whether the editor can play it.

import path from "node:path";
import { defaultTablesFolder, probe as probeOf, type Probe } from "../video/index";
import { plain, table } from "./lines";
import { Unusable, wordsOf, type Verb } from "./verb";

const help = `boutline probe FILE [--json]

Reads a recording with ffprobe (part of ffmpeg) and prints what is in it.

  --json            the same for other programs
  --ffprobe PATH    the ffprobe to use; without it the one on the PATH

Frame times are kept in the user's cache folder, so asking again is quick.
`;

export const probe: Verb = {
  help,
  run: async (words, { out, errors }) => {
    const { values, positionals } = wordsOf(words, {
      json: { type: "boolean" },
      ffprobe: { type: "string" },
    });
    const [file, ...others] = positionals;
    if (file === undefined || others.length > 0) throw new Unusable("name one recording");
    const told = await probeOf(path.resolve(file), {
      cacheDir: defaultTablesFolder(),
      ffprobePath: values.ffprobe === undefined ? undefined : path.resolve(values.ffprobe),
    });
    if (!told.ok) {
      errors(plain(`boutline probe: ${told.problem.message}`) + "\n");
      return 2;
    }
    if (values.json === true) out(JSON.stringify(forPrograms(told.value), undefined, 2) + "\n");
    else for (const line of linesOf(told.value)) out(plain(line) + "\n");
    return 0;
  },
};

/** Read by other programs: a change of meaning raises the number. */
function forPrograms(told: Probe) {
  const { frames, first, last, start, duration, codec, width, height, rotation, interlaced } = told;
  const { rate, variable, keyFrames, longestGop, audio, playable } = told;
  return {
    ...{ probe: 1, frames, first, last, start, duration, codec, width, height, rotation, interlaced },
    ...{ rate, variable, keyFrames, longestGop, audio, playable },
  };
}

const plays = {
  yes: "yes",
  silent: "the picture; the sound needs a viewing copy",
  no: "not as it is; it needs a viewing copy",
} as const;

function linesOf(told: Probe): string[] {
  const { width, height, rotation, interlaced, rate, variable } = told;
  const turned = rotation === 0 ? "" : `, turned by ${rotation} degrees`;
  return table([
    ["picture", `${told.codec}, ${width} by ${height}${turned}${interlaced ? ", interlaced" : ""}`],
    ["sound", told.audio ?? "none"],
    ["length", `${seconds(told.duration)}, from ${seconds(told.start)}`],
    ["frames", `${told.frames}, the first at ${seconds(told.first)}, the last at ${seconds(told.last)}`],
    ["frames a second", `${rate.toFixed(3)}${variable ? " on average, unevenly" : ""}`],
    ["key frames", `${told.keyFrames}, at most ${told.longestGop} frames from one to the next`],
    ["plays in desktop VS Code", plays[told.playable]],
  ]);
}

function seconds(time: number): string {
  return `${time.toFixed(3)} s`;
}
