// The text of a bout file as plain values, with where each log entry stands. Reads JSON with comments in one pass
// and keeps going after a mistake, so that one bad line does not hide the rest.

import { printParseErrorCode, stripComments, visit } from "jsonc-parser";
import { quickScan } from "./quick-scan";
import type { Place, Problem, Severity } from "./result";
import { deepest } from "./written";

export interface Stretch {
  readonly offset: number;
  readonly length: number;
}

export interface Scan {
  readonly text: string;
  /** The root value; undefined for a text without one. Duplicate keys: the last one counts. */
  readonly root: unknown;
  /** The raw value of each log entry, in the file's order, and where it stands. */
  readonly entries: readonly unknown[];
  readonly stretches: readonly Stretch[];
  /** The log's brackets; undefined where there is no log. */
  readonly log: Stretch | undefined;
  readonly problems: readonly Problem[];
  /** True when the text is not well-formed JSON with comments. */
  readonly broken: boolean;
}

/** Mistakes after which a text is no bout file that a hand has spoilt. */
const mostMistakes = 1000;

/** The text is not followed any further. */
class Refused extends Error {
  readonly offset: number;
  constructor(message: string, offset: number) {
    super(message);
    this.offset = offset;
  }
}

export function scanBout(text: string): Scan {
  const quick = quickScan(text, deepest);
  if (quick === undefined) return thoroughScan(text);
  const { root, stretches, log } = quick;
  const { log: entries } = root as { log?: unknown };
  return {
    text,
    root,
    entries: log === undefined ? [] : (entries as unknown[]),
    stretches,
    log,
    problems: [],
    broken: false,
  };
}

/** The same for any text, problems and all. */
export function thoroughScan(text: string): Scan {
  const problems: Problem[] = [];
  const place = placer(text);
  const report = (rule: string, severity: Severity, message: string, offset: number, length: number) =>
    problems.push({ rule, severity, message, place: place(offset, length) });

  let root: unknown;
  let broken = false;
  let mistakesMade = 0;
  let isEmpty: boolean | undefined;
  let log: { offset: number; length: number } | undefined;
  let stretches: { offset: number; length: number }[] = [];
  let entries: unknown[] = [];
  const open: (Record<string, unknown> | unknown[])[] = [];
  const keys: string[] = [];
  let rootKey = "";

  const add = (value: unknown) => {
    const parent = open[open.length - 1];
    if (parent === undefined) root = value;
    else if (Array.isArray(parent)) parent.push(value);
    else setOwn(parent, keys[keys.length - 1] ?? "", value);
  };
  const begin = (value: Record<string, unknown> | unknown[], offset: number, length: number) => {
    if (open.length >= deepest) throw new Refused("this is nested too deep for a bout file", offset);
    add(value);
    if (rootKey === "log") {
      if (open.length === 1 && Array.isArray(value)) {
        log = { offset, length };
        entries = value;
      } else if (open.length === 2 && Array.isArray(open[1])) stretches.push({ offset, length });
    }
    open.push(value);
    if (!Array.isArray(value)) keys.push("");
  };
  const end = (offset: number, length: number) => {
    const value = open.pop();
    if (value !== undefined && !Array.isArray(value)) keys.pop();
    if (rootKey !== "log") return;
    if (open.length === 1 && log !== undefined && Array.isArray(value))
      log.length = offset + length - log.offset;
    const last = stretches[stretches.length - 1];
    if (open.length === 2 && last !== undefined && Array.isArray(open[1]))
      last.length = offset + length - last.offset;
  };

  try {
    visit(
      text.startsWith("\uFEFF") ? ` ${text.slice(1)}` : text,
      {
        onObjectBegin: (offset, length) => begin({}, offset, length),
        onObjectProperty: (property, offset, length) => {
          const parent = open[open.length - 1];
          if (open.length === 1) {
            rootKey = property;
            if (property === "log") {
              log = undefined;
              stretches = [];
              entries = [];
            }
          }
          if (parent !== undefined && Object.hasOwn(parent, property))
            report(
              "duplicate-key",
              "warning",
              `"${property}" stands twice here; the last one counts. Remove one of them.`,
              offset,
              length,
            );
          keys[keys.length - 1] = property;
        },
        onObjectEnd: end,
        onArrayBegin: (offset, length) => begin([], offset, length),
        onArrayEnd: end,
        onLiteralValue: (value: unknown, offset, length) => {
          if (rootKey === "log" && open.length === 2 && Array.isArray(open[1]))
            stretches.push({ offset, length });
          add(value);
        },
        onError: (code, offset, length) => {
          broken = true;
          if (++mistakesMade > mostMistakes)
            throw new Refused(
              "with so many mistakes above this is no bout file; it is read no further",
              offset,
            );
          const mistake = printParseErrorCode(code);
          if (mistake === "ValueExpected" && (isEmpty ??= stripComments(text).trim() === ""))
            report("not-json", "error", "the file is empty; a new bout file is made from a recording", 0, 0);
          else report("not-json", "error", mistakes[mistake] ?? "this is not JSON", offset, length);
        },
      },
      { allowTrailingComma: true, disallowComments: false },
    );
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    broken = true;
    root = undefined;
    report("not-json", "error", error.message, error.offset, 1);
  }
  return { text, root, entries, stretches, log, problems, broken };
}

/** Sets a property of its own even where the name is `__proto__`. */
function setOwn(target: Record<string, unknown>, key: string, value: unknown): void {
  if (key === "__proto__")
    Object.defineProperty(target, key, { value, enumerable: true, configurable: true, writable: true });
  else target[key] = value;
}

const mistakes: Readonly<Record<string, string>> = {
  InvalidSymbol: "this word is not JSON; text needs double quotes",
  InvalidNumberFormat: "this number is not written as JSON wants it",
  PropertyNameExpected: 'a field name in double quotes is expected here, as in "kind"',
  ValueExpected: "a value is missing here",
  ColonExpected: "a colon is missing here",
  CommaExpected: "a comma is missing here",
  CloseBraceExpected: "a closing } is missing",
  CloseBracketExpected: "a closing ] is missing",
  EndOfFileExpected: "the file should end here",
  UnexpectedEndOfComment: "this comment is not closed; end it with */",
  UnexpectedEndOfString: "this text is not closed; end it with a double quote",
  UnexpectedEndOfNumber: "this number breaks off",
  InvalidUnicode: "a \\u needs four hexadecimal digits",
  InvalidEscapeCharacter: "this backslash sequence is not JSON",
  InvalidCharacter: "this character must be escaped inside text",
};

/** Turns offsets into places; the line table is built when the first one is asked for. */
export function placer(text: string): (offset: number, length: number) => Place {
  let starts: number[] | undefined;
  return (offset, length) => {
    starts ??= lineStarts(text);
    let low = 0;
    let high = starts.length;
    while (high - low > 1) {
      const middle = (low + high) >>> 1;
      if ((starts[middle] ?? Infinity) <= offset) low = middle;
      else high = middle;
    }
    const column = offset - (starts[low] ?? 0) + 1;
    return {
      offset,
      length,
      line: low + 1,
      column: low === 0 && text.startsWith("\uFEFF") ? Math.max(1, column - 1) : column,
    };
  };
}

/** Offsets at which lines begin; a line ends with LF, CRLF or CR, as in the editor. */
function lineStarts(text: string): number[] {
  const starts = [0];
  for (let index = 0; index < text.length; index++) {
    const code = text.charCodeAt(index);
    if (code === 10 || (code === 13 && text.charCodeAt(index + 1) !== 10)) starts.push(index + 1);
  }
  return starts;
}
