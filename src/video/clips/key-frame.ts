// Does a frame begin a stretch that can be decoded by itself?

import type { FrameIndex } from "../frame-index";
import type { Stream } from "../listing";
import { runLines } from "../process";
import type { Program } from "../programs";
import { named, reach } from "../reach";

/** Asks for the packet a seek to the frame arrives at: that of a key frame, at the frame's own time. */
export async function startsOnKeyFrame(
  { path }: Program,
  file: string,
  index: FrameIndex,
  frame: number,
  [numerator, denominator]: Stream["tick"],
  signal: AbortSignal,
): Promise<boolean> {
  const time = index.first + (index.times[frame] ?? 0);
  const found: boolean[] = [];
  await runLines(
    path,
    [
      ...["-v", "error", ...reach, "-select_streams", "V:0"],
      ...["-read_intervals", `${Math.max(0, time).toFixed(6)}%+#1`],
      ...["-show_entries", "packet=pts,flags", "-of", "csv=p=0", named(file)],
    ],
    signal,
    (line) => {
      const [pts = "", flags = ""] = line.split(",");
      const ticks = Math.round((time * denominator) / numerator);
      if (pts !== "") found.push(Number(pts) === ticks && flags.includes("K"));
    },
  );
  return found[0] === true;
}
