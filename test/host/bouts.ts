// Small bouts for the checks of the host's pure parts.
import { readBout, type Reading } from "../../src/bout/read";
import { studyOf, type Study } from "../../src/rules/index";

export function boutText(log: readonly object[], about: object = {}, more: object = {}): string {
  return JSON.stringify({
    boutline: 1,
    bout: { weapon: "foil", format: "elimination", rules: "wheelchair-2026", ...about },
    fencers: { left: { name: "Vessa Tarn" }, right: { name: "Kel Odrey" } },
    ...more,
    log,
  });
}

export function studied(text: string): { reading: Reading; study: Study } {
  const reading = readBout(text);
  const study = studyOf(reading);
  if (study === undefined) throw new Error("this text holds no bout");
  return { reading, study };
}

/** `0:00:SS.000` */
export function second(seconds: number): string {
  return `0:00:${String(seconds).padStart(2, "0")}.000`;
}

export function phrase(from: number, to: number | undefined, rest: object = {}): object {
  return {
    kind: "phrase",
    start: second(from),
    ...(to === undefined ? {} : { halt: second(to) }),
    ...rest,
  };
}
