// Time in the first recording: whole milliseconds in memory, `h:mm:ss.mmm` in the file.

declare const milliseconds: unique symbol;
/** Whole milliseconds from the first frame of the first recording. */
export type Milliseconds = number & { readonly [milliseconds]: true };

export const timePattern = /^\d{1,4}:[0-5]\d:[0-5]\d\.\d{3}$/;

/** Reads `h:mm:ss.mmm`; undefined when the text has another shape. */
export function parseTime(text: string): Milliseconds | undefined {
  if (!timePattern.test(text)) return undefined;
  const end = text.length;
  const hours = Number(text.slice(0, end - 10));
  const minutes = Number(text.slice(end - 9, end - 7));
  const seconds = Number(text.slice(end - 6, end - 4));
  const rest = Number(text.slice(end - 3));
  return (((hours * 60 + minutes) * 60 + seconds) * 1000 + rest) as Milliseconds;
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
