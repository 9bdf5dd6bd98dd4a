// Which of ffmpeg's programs is used, and is it fit?

import { stat } from "node:fs/promises";
import { failure, type Result, success } from "../bout/result";
import { installAdvice, locate } from "./locate";
import { type VideoProblem, videoProblem } from "./problem";
import { runLines } from "./process";

export interface Program {
  readonly path: string;
  /** As it names itself, "5.1.9-0+deb12u1". */
  readonly version: string;
  /** Release series, told from the library inside: builds between releases have no version number. */
  readonly series: number;
}

/**
 * The program by this name: at `setting` (a full path) if given, else on PATH.
 * Releases before 5 are refused; those after 7 are used, though not tested.
 */
export async function findProgram(
  name: "ffprobe" | "ffmpeg",
  setting?: string,
): Promise<Result<Program, VideoProblem>> {
  const found = await locate(name, setting);
  if (found === undefined) {
    const where = setting === undefined ? "not installed" : `not at ${setting}, where the settings say`;
    return failure(videoProblem("program-missing", `${name} is ${where}. ${installAdvice()}`));
  }
  const { mtimeMs, size } = await stat(found);
  const state = `${found} ${size} ${mtimeMs}`;
  const before = known.get(state);
  if (before !== undefined) return success(before);
  const said: string[] = [];
  const { code, complaint } = await runLines(found, ["-version"], AbortSignal.timeout(10_000), (line) =>
    said.push(line),
  );
  const version = new RegExp(`^${name} version (\\S+)`).exec(said[0] ?? "")?.[1];
  const library = /^libavformat\s+(\d+)\./m.exec(said.join("\n"))?.[1];
  if (code !== 0 || version === undefined || library === undefined) {
    const reason = complaint.trim() || "it does not say its version";
    return failure(videoProblem("program-unusable", `${found} can't be used: ${reason}.`));
  }
  // libavformat 58 came with ffmpeg 4, 59 with 5, and so on (ffmpeg.org/download.html lists both for each release).
  const series = Number(library) - 54;
  if (series < 5) {
    const old = `${found} is version ${version}; Boutline needs 5 or newer. ${installAdvice()}`;
    return failure(videoProblem("program-old", old));
  }
  const program = { path: found, version, series };
  known.set(state, program);
  return success(program);
}

/** Programs found fit before, by path, size and time: starting one takes a tenth of a second and more. */
const known = new Map<string, Program>();
