// How numbers are said on a page: rounded for reading, never so far that a limit looks surer than it is said to be.

/** Below this many a percentage says less than the count itself. */
export const fewestForPercentage = 5;

const space = "\u00a0";
const minus = "\u2212";

/** A share as whole percent: `43 %`. */
export function percent(share: number): string {
  return `${Math.round(share * 100)}${space}%`;
}

/** Limits of a share: `21 to 67 %`. */
export function percentLimits(low: number, high: number): string {
  return `${Math.round(low * 100)} to ${percent(high)}`;
}

/** A number with a fixed number of decimals and a true minus sign; what rounds to 0 has no sign. */
export function decimal(value: number, places: number): string {
  const text = Math.abs(value).toFixed(places);
  return value < 0 && Number(text) !== 0 ? minus + text : text;
}

/** Seconds as `4:04`, or `1:02:03`; fractions are cut off as on a scoreboard. */
export function clock(seconds: number): string {
  const whole = Math.floor(seconds);
  const two = (value: number): string => String(value).padStart(2, "0");
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  return hours > 0 ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}

/** A probability as `p = 0.013`; small ones as `p < 0.001`. */
export function probability(p: number): string {
  return p < 0.001 ? "p < 0.001" : `p = ${p.toFixed(p < 0.1 ? 3 : 2)}`;
}

/** Metres as centimetres: `3.1 cm`. */
export function centimetres(metres: number): string {
  return `${decimal(metres * 100, 1)}${space}cm`;
}

/** `1 phrase`, `12 phrases`; words that take another plural name it. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
