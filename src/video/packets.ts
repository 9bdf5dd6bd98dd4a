// Every packet of a recording's picture, as ffprobe lists them: when it is shown, and what can be decoded by itself.

import { failure, type Result, success } from "../bout/result";
import { givenUp, unreadable } from "./complaint";
import type { VideoProblem } from "./problem";
import { runLines } from "./process";
import type { Program } from "./programs";
import { named, reach } from "./reach";

/** A packet of a stream, in the order of the file; for pictures one frame. */
export interface Packet {
  /** Presentation time in ticks of the stream's clock. */
  readonly time: number;
  readonly key: boolean;
  /** Needed to decode what follows, never shown: before the beginning that an edit list sets. */
  readonly hidden: boolean;
}

/** Calls `packet` for each packet with a time of the stream a browser shows: the first that is not a cover picture. */
export async function listPackets(
  { path }: Program,
  file: string,
  signal: AbortSignal,
  packet: (packet: Packet) => void,
): Promise<Result<undefined, VideoProblem>> {
  const what = ["-select_streams", "V:0", "-show_entries", "packet=pts,dts,flags", "-of", "csv=p=0"];
  const options = ["-v", "error", ...reach, ...what, named(file)];
  const { code, complaint } = await runLines(path, options, signal, (line) => {
    const [, shown, decoded, flags = ""] = /^(-?\d+|N\/A),(-?\d+|N\/A),(\S*)/.exec(line) ?? [];
    // Some containers write only the time of decoding. As a set these are the times of showing.
    const time = Number(shown === "N/A" ? decoded : shown);
    if (Number.isFinite(time)) packet({ time, key: flags.includes("K"), hidden: flags.includes("D") });
  });
  if (signal.aborted) return failure(givenUp(signal, file));
  return code === 0 ? success(undefined) : failure(unreadable(file, complaint));
}
