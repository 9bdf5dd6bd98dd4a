// Text written into the picture: in a file of its own, so that nothing in it is taken for an option of the filter, and in
// a font that is there.

import { existsSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { failure, type Result, success } from "../../bout/result";
import { type VideoProblem, videoProblem } from "../problem";

/** Plain fonts of each system, where they are installed (from memory; the first that is there is used). */
const fonts = [
  "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
  "/usr/share/fonts/dejavu-sans-fonts/DejaVuSans.ttf",
  "/usr/share/fonts/TTF/DejaVuSans.ttf",
  "/usr/share/fonts/truetype/liberation/LiberationSans-Regular.ttf",
  "/usr/share/fonts/truetype/noto/NotoSans-Regular.ttf",
  "/System/Library/Fonts/Helvetica.ttc",
  "/Library/Fonts/Arial.ttf",
  "C:/Windows/Fonts/arial.ttf",
];

/** Options of the filter that say what is written and in which font. */
export async function textSource(text: string, file: string): Promise<Result<string, VideoProblem>> {
  const font = fonts.find((one) => existsSync(one));
  if (font === undefined)
    return failure(
      videoProblem(
        "font-missing",
        "No font was found to write the call into the picture. Leave it out: the captions beside the clips say the same.",
      ),
    );
  await writeFile(file, wrapped(text.replace(/[\r\n\0]+/g, " ")));
  return success(`fontfile=${escaped(font)}:textfile=${escaped(file)}`);
}

/** Letters that fit beside each other at the size they are written in. */
const across = 60;

function wrapped(text: string): string {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= across)
      lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines.join("\n");
}

/** As a value of an option in a graph of filters: escaped for the option, then for the graph (ffmpeg's manual, "Notes on
 * filtergraph escaping"). */
function escaped(value: string): string {
  return value
    .replaceAll("\\", "/")
    .replace(/[\\':]/g, "\\$&")
    .replace(/[\\'[\],;]/g, "\\$&");
}
