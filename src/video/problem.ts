// What can go wrong with a recording or with the programs that read it.

import type { Problem } from "../bout/result";

/** There is no text of a bout file to point at. */
export type VideoProblem = Omit<Problem, "place" | "entry">;

export interface VideoOptions {
  /** Folder of frame tables made before; made if missing. */
  readonly cacheDir: string;
  /** Full path of ffprobe; without it the one on PATH. */
  readonly ffprobePath?: string | undefined;
  /** Gives up: the processes are ended, nothing is left half-made. */
  readonly signal?: AbortSignal | undefined;
}

/** Settings of what writes something new as well. */
export interface MakeOptions extends VideoOptions {
  /** Full path of ffmpeg; without it the one on PATH. */
  readonly ffmpegPath?: string | undefined;
}

export function videoProblem(rule: string, message: string): VideoProblem {
  return { rule, severity: "error", message };
}
