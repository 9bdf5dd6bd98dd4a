// The call of a clip as WebVTT (W3C, "WebVTT: The Web Video Text Tracks Format"), beside it.

import type { Caption } from "./plan";

/** Times become those of the clip, which begins at `from` and lasts `length` seconds. */
export function webVtt(captions: readonly Caption[], from: number, length: number): string {
  const cues = captions.flatMap(({ from: start, to, text }) => {
    const [begin, end] = [Math.max(0, start - from), Math.min(length, to - from)];
    return end > begin ? [`${timestamp(begin)} --> ${timestamp(end)}\n${cueText(text)}\n`] : [];
  });
  return ["WEBVTT\n", ...cues].join("\n");
}

/** Nothing in it is markup, ends the cue or begins another. */
function cueText(text: string): string {
  return text
    .replace(/[\r\n\u2028\u2029\0]+/g, " ")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;");
}

function timestamp(seconds: number): string {
  const all = Math.round(seconds * 1000);
  const part = (value: number, digits: number) => String(value).padStart(digits, "0");
  const [hours, minutes, rest] = [Math.floor(all / 3_600_000), Math.floor(all / 60_000) % 60, all % 60_000];
  return `${part(hours, 2)}:${part(minutes, 2)}:${part(Math.floor(rest / 1000), 2)}.${part(rest % 1000, 3)}`;
}
