// Why a program did not read or write what it should have, in a sentence for the user.

import type { Outcome } from "./ffmpeg";
import { type VideoProblem, videoProblem } from "./problem";
import { tooLate } from "./process";
import { named } from "./reach";

export function givenUp({ reason }: AbortSignal, file: string): VideoProblem {
  return reason === tooLate
    ? videoProblem("recording-slow", `Reading ${file} took too long and was given up.`)
    : videoProblem("cancelled", `Reading ${file} was cancelled.`);
}

export function unreadable(file: string, complaint: string): VideoProblem {
  return videoProblem(
    "recording-unreadable",
    `${file} can't be read as a recording: ${lastReason(file, complaint)}.`,
  );
}

/** What ffmpeg did not do: `what` is said of the recording, "The viewing copy of it". */
export function unmade(
  what: string,
  file: string,
  folder: string,
  { killed, complaint }: Outcome,
): VideoProblem {
  if (/No space left on device|Disk quota exceeded|File too large/i.test(complaint)) {
    const room = "Make room there, or choose another folder.";
    return videoProblem("disk-full", `${what} of ${file} could not be written: ${folder} is full. ${room}`);
  }
  const encoder = /Unknown encoder '([^']+)'/.exec(complaint)?.[1];
  if (encoder !== undefined) {
    const other = "Install a complete ffmpeg and set its path, or put it first on the PATH.";
    return videoProblem(
      "encoder-missing",
      `${what} needs the encoder ${encoder}, which this ffmpeg lacks. ${other}`,
    );
  }
  if (/Cannot determine format of input stream|Output file is empty/.test(complaint))
    return videoProblem("copy-failed", `${what} of ${file} could not be made: none of it can be decoded.`);
  const reason = killed ? "ffmpeg was ended from outside" : lastReason(file, complaint);
  return videoProblem("copy-failed", `${what} of ${file} could not be made: ${reason}.`);
}

function lastReason(file: string, complaint: string): string {
  const said = complaint
    .split("\n")
    .map((line) =>
      line
        .replaceAll(named(file), "")
        .replace(/^[:\s]+/, "")
        .trim(),
    )
    .filter((line) => line !== "" && !/^ff(probe|mpeg) exited/.test(line));
  return (said.at(-1) ?? "no reason given").replace(/\.$/, "");
}
