// Why a program did not read or write what it should have, in a sentence for the user.

import { type VideoProblem, videoProblem } from "./problem";
import { tooLate } from "./process";
import { named } from "./reach";

export function givenUp({ reason }: AbortSignal, file: string): VideoProblem {
  return reason === tooLate
    ? videoProblem("recording-slow", `Reading ${file} took too long and was given up.`)
    : videoProblem("cancelled", `Reading ${file} was cancelled.`);
}

export function unreadable(file: string, complaint: string): VideoProblem {
  const reason = complaint
    .split("\n")
    .map((line) =>
      line
        .replaceAll(named(file), "")
        .replace(/^[:\s]+/, "")
        .trim(),
    )
    .filter((line) => line !== "" && !line.startsWith("ffprobe exited"))
    .at(-1);
  return videoProblem(
    "recording-unreadable",
    `${file} can't be read as a recording: ${reason ?? "no reason given"}.`,
  );
}
