// The quick way to read a text with nothing wrong in it: one walk finds comments and where the log's entries stand, and
// the engine's own JSON parser does the rest. Anything unusual is left to the thorough way, which says what it is.

import type { Stretch } from "./scan";

export interface QuickScan {
  readonly root: object;
  readonly stretches: readonly Stretch[];
  readonly log: Stretch | undefined;
}

/** Undefined for a text with mistakes, a key written twice, or nesting deeper than `deepest`. */
export function quickScan(text: string, deepest: number): QuickScan | undefined {
  const stretches: Stretch[] = [];
  let log: Stretch | undefined;
  /** The text in pieces, without comments and trailing commas. */
  const pieces: string[] = [];
  let from = text.startsWith("\uFEFF") ? 1 : 0;
  let depth = 0;
  let inLog = false;
  let begin = 0;
  let properties = 0;
  /** The last string at depth 1, and the last two characters that mean something. */
  let word = "";
  let beforeLast = 0;
  let last = 0;
  let lastAt = 0;

  for (let at = from; at < text.length; at++) {
    const code = text.charCodeAt(at);
    switch (code) {
      case 32:
      case 9:
      case 10:
      case 13:
        continue;
      case 34: {
        const end = endOfString(text, at);
        if (end === -1 || (inLog && depth === 2)) return undefined;
        if (depth === 1) word = text.slice(at + 1, end);
        lastAt = at;
        at = end;
        break;
      }
      case 47: {
        const end = endOfComment(text, at);
        if (end === -1) return undefined;
        pieces.push(text.slice(from, at), " ");
        from = end;
        at = end - 1;
        continue;
      }
      case 58:
        properties++;
        break;
      case 123:
      case 91:
        if (depth >= deepest) return undefined;
        if (depth === 1 && code === 91 && word === "log") {
          if (log !== undefined) return undefined;
          inLog = true;
          begin = at;
        } else if (depth === 2 && inLog) stretches.push({ offset: at, length: 0 });
        depth++;
        break;
      case 125:
      case 93:
        if (last === 44) {
          if (lastAt < from || beforeLast === 44 || beforeLast === 123 || beforeLast === 91) return undefined;
          pieces.push(text.slice(from, lastAt));
          from = lastAt + 1;
        }
        depth--;
        if (depth === 2 && inLog) {
          const { offset } = stretches[stretches.length - 1] ?? { offset: at };
          stretches[stretches.length - 1] = { offset, length: at + 1 - offset };
        } else if (depth === 1 && inLog) {
          inLog = false;
          log = { offset: begin, length: at + 1 - begin };
        }
        break;
      case 44:
        break;
      default:
        if (inLog && depth === 2) return undefined;
    }
    if (code !== 34) lastAt = at;
    beforeLast = last;
    last = code;
  }
  pieces.push(text.slice(from));

  let root: unknown;
  try {
    root = JSON.parse(pieces.join(""));
  } catch {
    return undefined;
  }
  if (typeof root !== "object" || root === null || Array.isArray(root)) return undefined;
  return propertiesIn(root) === properties ? { root, stretches, log } : undefined;
}

/** Offset of the closing quote; -1 without one. */
function endOfString(text: string, begin: number): number {
  for (let end = text.indexOf('"', begin + 1); end !== -1; end = text.indexOf('"', end + 1)) {
    let slashes = end;
    while (text.charCodeAt(slashes - 1) === 92) slashes--;
    if ((end - slashes) % 2 === 0) return end;
  }
  return -1;
}

/** Offset after a comment; -1 where there is none or it is not closed. */
function endOfComment(text: string, begin: number): number {
  const kind = text.charCodeAt(begin + 1);
  if (kind === 42) {
    const close = text.indexOf("*/", begin + 2);
    return close === -1 ? -1 : close + 2;
  }
  if (kind !== 47) return -1;
  let end = begin + 2;
  while (end < text.length && text.charCodeAt(end) !== 10 && text.charCodeAt(end) !== 13) end++;
  return end;
}

/** Fewer than the colons of the text where a key was written twice. */
function propertiesIn(value: object): number {
  let count = 0;
  if (Array.isArray(value)) {
    for (const item of value as unknown[])
      if (typeof item === "object" && item !== null) count += propertiesIn(item);
    return count;
  }
  const record = value as Record<string, unknown>;
  for (const key of Object.keys(record)) {
    count++;
    const inner = record[key];
    if (typeof inner === "object" && inner !== null) count += propertiesIn(inner);
  }
  return count;
}
