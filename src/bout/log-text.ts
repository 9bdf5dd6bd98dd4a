// The text of the log when an entry comes or goes: its line, its comma, its indent, the comments around it.

import {
  commaAfter,
  endOfLineIfBlank,
  endOfLineIfQuiet,
  lineBefore,
  lineIndent,
  lineStart,
  ownLineIndent,
} from "./line-text";
import type { Scan, Stretch } from "./scan";
import { merged, type TextEdit } from "./text-edit";

export interface Layout {
  readonly scan: Scan;
  readonly log: Stretch;
  readonly lineEnd: string;
  /** White space before an entry on its own line. */
  readonly indent: string;
}

export function layoutOf(scan: Scan, log: Stretch): Layout {
  const { text } = scan;
  const firstBreak = text.indexOf("\n");
  const lineEnd = firstBreak > 0 && text[firstBreak - 1] === "\r" ? "\r\n" : "\n";
  const own = scan.stretches.find((stretch) => ownLineIndent(text, stretch.offset) !== undefined);
  const indent =
    (own === undefined ? undefined : ownLineIndent(text, own.offset)) ?? `${lineIndent(text, log.offset)}  `;
  return { scan, log, lineEnd, indent };
}

/** Edits that put `entry` before the entry now at `index` (or at the end). `leaving` is an entry that goes away in the
 * same change. */
export function insertText(layout: Layout, index: number, entry: string, leaving?: number): TextEdit[] {
  const { scan, log, lineEnd, indent } = layout;
  const { text, stretches } = scan;
  const others = stretches.map((stretch, at) => ({ stretch, at })).filter(({ at }) => at !== leaving);
  const previous = others.findLast(({ at }) => at < index)?.stretch;
  const next = others.find(({ at }) => at >= index)?.stretch;
  const close = log.offset + log.length - 1;

  if (previous === undefined && next === undefined) {
    const inside = text.slice(log.offset + 1, close);
    if (inside.trim() === "")
      return [
        {
          offset: log.offset + 1,
          length: leaving === undefined ? inside.length : 0,
          text: `${lineEnd}${indent}${entry}${lineEnd}${lineIndent(text, log.offset)}`,
        },
      ];
    // Only comments stand in the log: the entry goes under them.
    return [
      {
        offset: close,
        length: 0,
        text: `${lineBefore(text, close) ? "" : lineEnd}${indent}${entry}${lineEnd}`,
      },
    ];
  }
  if (previous === undefined && next !== undefined) {
    if (ownLineIndent(text, next.offset) === undefined)
      return [{ offset: next.offset, length: 0, text: `${entry}, ` }];
    const end = endOfLineIfQuiet(text, log.offset + 1, next.offset);
    return end === undefined
      ? [{ offset: next.offset, length: 0, text: `${entry},${lineEnd}${indent}` }]
      : [{ offset: end, length: 0, text: `${lineEnd}${indent}${entry},` }];
  }
  const from = previous === undefined ? 0 : previous.offset + previous.length;
  const comma = commaAfter(text, from, next?.offset ?? close);
  const alone = previous !== undefined && ownLineIndent(text, previous.offset) !== undefined;
  if (next === undefined && comma === undefined) {
    const end = alone ? endOfLineIfQuiet(text, from, close) : undefined;
    return end === undefined
      ? [
          {
            offset: from,
            length: 0,
            text: alone
              ? `,${lineEnd}${indent}${entry}${lineEnd}${lineIndent(text, log.offset)}`
              : `, ${entry}`,
          },
        ]
      : merged([
          { offset: from, length: 0, text: "," },
          { offset: end, length: 0, text: `${lineEnd}${indent}${entry}` },
        ]);
  }
  const afterComma = comma === undefined ? from : comma + 1;
  const end = alone ? endOfLineIfQuiet(text, afterComma, next?.offset ?? close) : undefined;
  return end === undefined
    ? [{ offset: afterComma, length: 0, text: ` ${entry},` }]
    : [{ offset: end, length: 0, text: `${lineEnd}${indent}${entry},` }];
}

/** Edits that take the entry at `index` and one comma away; comments stay. */
export function deleteText(scan: Scan, log: Stretch, index: number): TextEdit[] {
  const { text, stretches } = scan;
  const own = stretches[index] ?? { offset: 0, length: 0 };
  const previous = stretches[index - 1];
  const next = stretches[index + 1];
  const end = own.offset + own.length;
  const close = log.offset + log.length - 1;
  const comma = commaAfter(text, end, next?.offset ?? close);

  if (comma !== undefined) {
    const tail = endOfLineIfBlank(text, comma + 1);
    const quiet = text.slice(end, comma).trim() === "";
    if (quiet && tail !== undefined && ownLineIndent(text, own.offset) !== undefined) {
      const start = lineStart(text, own.offset);
      return [{ offset: start, length: tail - start, text: "" }];
    }
    if (quiet) {
      const space = /^[ \t]*/.exec(text.slice(comma + 1, next?.offset ?? close))?.[0].length ?? 0;
      return [{ offset: own.offset, length: comma + 1 + space - own.offset, text: "" }];
    }
    return [
      { offset: own.offset, length: own.length, text: "" },
      { offset: comma, length: 1, text: "" },
    ];
  }
  const edits: TextEdit[] = [];
  if (previous !== undefined) {
    const before = commaAfter(text, previous.offset + previous.length, own.offset);
    if (before !== undefined) edits.push({ offset: before, length: 1, text: "" });
  }
  const tail = endOfLineIfBlank(text, end);
  const start = lineStart(text, own.offset);
  const alone = ownLineIndent(text, own.offset) !== undefined && start > log.offset;
  if (alone && tail !== undefined) edits.push({ offset: start, length: tail - start, text: "" });
  else {
    const space = previous === undefined ? 0 : blanksBefore(text, own.offset, edits[0]);
    edits.push({ offset: own.offset - space, length: own.length + space, text: "" });
  }
  return edits;
}

function blanksBefore(text: string, offset: number, comma: TextEdit | undefined): number {
  let start = offset;
  while (start > (comma === undefined ? 0 : comma.offset + 1) && /[ \t]/.test(text[start - 1] ?? "")) start--;
  return offset - start;
}
