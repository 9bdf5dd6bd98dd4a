// Time in the first recording: whole milliseconds in memory, `h:mm:ss.mmm` in the file.

declare const milliseconds: unique symbol;
/** Whole milliseconds from the first frame of the first recording. */
export type Milliseconds = number & { readonly [milliseconds]: true };

export const timePattern = /^\d{1,4}:[0-5]\d:[0-5]\d\.\d{3}$/;

/** Reads `h:mm:ss.mmm`; undefined when the text has another shape. Asked for every time of every file, so it makes
 * nothing on its way. */
export function parseTime(text: string): Milliseconds | undefined {
  const point = text.length - 4;
  const colon = point - 6;
  if (colon < 1 || colon > 4) return undefined;
  if (text.charCodeAt(colon) !== 58 || text.charCodeAt(colon + 3) !== 58 || text.charCodeAt(point) !== 46)
    return undefined;
  const hours = digits(text, 0, colon);
  const minutes = digits(text, colon + 1, colon + 3);
  const seconds = digits(text, colon + 4, point);
  const rest = digits(text, point + 1, point + 4);
  if (hours < 0 || minutes < 0 || minutes > 59 || seconds < 0 || seconds > 59 || rest < 0) return undefined;
  return (((hours * 60 + minutes) * 60 + seconds) * 1000 + rest) as Milliseconds;
}

/** The number written from one place to another; -1 where something else stands there. */
function digits(text: string, from: number, to: number): number {
  let number = 0;
  for (let at = from; at < to; at++) {
    const digit = text.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) return -1;
    number = number * 10 + digit;
  }
  return number;
}

/** Writes `h:mm:ss.mmm`. Negative or fractional milliseconds are a bug and throw. */
export function formatTime(time: Milliseconds): string {
  if (!Number.isInteger(time) || time < 0)
    throw new RangeError(`not a whole number of milliseconds: ${time}`);
  const two = (value: number): string => String(value).padStart(2, "0");
  const hours = Math.floor(time / 3_600_000);
  const minutes = Math.floor(time / 60_000) % 60;
  const seconds = Math.floor(time / 1000) % 60;
  return `${hours}:${two(minutes)}:${two(seconds)}.${String(time % 1000).padStart(3, "0")}`;
}

/** Rounds seconds to the nearest whole millisecond, never below 0: a frame's presentation time as written. */
export function fromSeconds(seconds: number): Milliseconds {
  return Math.max(0, Math.round(seconds * 1000)) as Milliseconds;
}
