// Edits of a text as values: what replaces which stretch.

import type { Stretch } from "./scan";

/** Replaces `length` characters at `offset` of the text before any edit of the same list. */
export interface TextEdit {
  readonly offset: number;
  readonly length: number;
  readonly text: string;
}

/** Applies edits given in rising order. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let result = "";
  let done = 0;
  for (const edit of edits) {
    result += text.slice(done, edit.offset) + edit.text;
    done = edit.offset + edit.length;
  }
  return result + text.slice(done);
}

/** One edit that turns a stretch into `after`, without the characters both have at either end. */
export function narrowed(text: string, { offset, length }: Stretch, after: string): TextEdit {
  const before = text.slice(offset, offset + length);
  let head = 0;
  while (head < before.length && head < after.length && before[head] === after[head]) head++;
  let tail = 0;
  while (
    tail < before.length - head &&
    tail < after.length - head &&
    before[before.length - 1 - tail] === after[after.length - 1 - tail]
  )
    tail++;
  return {
    offset: offset + head,
    length: before.length - head - tail,
    text: after.slice(head, after.length - tail),
  };
}

/** Edits in rising order; those that touch become one. */
export function merged(edits: readonly TextEdit[]): TextEdit[] {
  const result: TextEdit[] = [];
  for (const edit of edits.toSorted((one, other) => one.offset - other.offset || one.length - other.length)) {
    const last = result[result.length - 1];
    if (last !== undefined && edit.offset <= last.offset + last.length) {
      const end = Math.max(last.offset + last.length, edit.offset + edit.length);
      result[result.length - 1] = {
        offset: last.offset,
        length: end - last.offset,
        text: last.text + edit.text,
      };
    } else result.push(edit);
  }
  return result;
}
