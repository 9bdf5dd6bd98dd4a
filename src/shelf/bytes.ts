// What one pass over a file's bytes tells, four bytes at a time.

export interface BytesSeen {
  /** Equal for equal bytes; two files that differ hardly ever share it. No protection against somebody who wants it so. */
  readonly sum: string;
  /** A colon is this one byte and no part of another character in UTF-8. */
  readonly colons: number;
  /** Only characters below 128. */
  readonly plain: boolean;
}

/** `bytes` begin at a multiple of four in their memory, with room for such a multiple. */
export function bytesSeen(bytes: Buffer, length: number): BytesSeen {
  // Bytes beyond the end are 0 for the last four.
  if (length % 4 !== 0) bytes.fill(0, length, Math.min(bytes.length, (length | 3) + 1));
  const fours = new Int32Array(bytes.buffer, bytes.byteOffset, Math.ceil(length / 4));
  let [one, other, all, colons] = [length | 0, ~length, 0, 0];
  for (let at = 0; at < fours.length; at++) {
    const four = fours[at] ?? 0;
    all |= four;
    // The high bit of each byte that is a colon, and of no other.
    const differs = four ^ 0x3a3a3a3a;
    const high = ~(((differs & 0x7f7f7f7f) + 0x7f7f7f7f) | 0 | differs | 0x7f7f7f7f);
    // Their number in the topmost byte.
    if (high !== 0) colons += Math.imul(high >>> 7, 0x01010101) >>> 24;
    // Steps that can be undone, so that one byte that differs is never lost.
    one = Math.imul(one ^ four, 0x9e3779b1);
    other = (Math.imul(other, 0x85ebca6b) + (four ^ (one >>> 15))) | 0;
  }
  return { sum: hexadecimal(one) + hexadecimal(other), colons, plain: (all & 0x80808080) === 0 };
}

function hexadecimal(number: number): string {
  return (number >>> 0).toString(16).padStart(8, "0");
}
