// What time does somebody mean who types into the time field?

import { fromSeconds, type Milliseconds } from "../bout/time";

/** Reads `0:04:12.480`, `4:12.48`, `4:12` or seconds, `252.5`; a comma is taken for the point. Undefined for the rest. */
export function typedTime(text: string): Milliseconds | undefined {
  const found = /^(?:(?:(\d+):)?(\d+):)?(\d+)(?:[.,](\d+))?$/.exec(text.trim());
  if (found === null) return undefined;
  const [, hours = "0", minutes = "0", seconds = "0", fraction = "0"] = found;
  if (found[2] !== undefined && Number(seconds) > 59) return undefined;
  if (found[1] !== undefined && Number(minutes) > 59) return undefined;
  const time = (Number(hours) * 60 + Number(minutes)) * 60 + Number(`${seconds}.${fraction}`);
  return Number.isSafeInteger(Math.round(time * 1000)) ? fromSeconds(time) : undefined;
}
