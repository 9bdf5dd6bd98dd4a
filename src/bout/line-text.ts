// Lines, white space and commas of a text with comments.

/** Offset of the comma between two offsets that lies outside comments. */
export function commaAfter(text: string, from: number, to: number): number | undefined {
  for (let at = from; at < to; at++) {
    const here = text[at];
    if (here === ",") return at;
    if (here !== "/") continue;
    if (text[at + 1] === "/") {
      while (at < to && text[at] !== "\n" && text[at] !== "\r") at++;
    } else if (text[at + 1] === "*") {
      const close = text.indexOf("*/", at + 2);
      at = close === -1 ? to : close + 1;
    }
  }
  return undefined;
}

export function lineStart(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && text[at - 1] !== "\n" && text[at - 1] !== "\r") at--;
  return at;
}

export function lineIndent(text: string, offset: number): string {
  const start = lineStart(text, offset);
  return /^[ \t]*/.exec(text.slice(start, offset))?.[0] ?? "";
}

/** The white space before an offset where nothing else stands before it on its line. */
export function ownLineIndent(text: string, offset: number): string | undefined {
  const before = text.slice(lineStart(text, offset), offset);
  return /^[ \t]*$/.test(before) ? before : undefined;
}

export function lineBefore(text: string, offset: number): boolean {
  return ownLineIndent(text, offset) === "" && offset > 0;
}

/** End of the line where only white space and whole comments stand from `from` on, before `limit`. */
export function endOfLineIfQuiet(text: string, from: number, limit: number): number | undefined {
  let at = from;
  while (at < limit) {
    const here = text[at];
    if (here === "\n" || here === "\r") return at;
    if (here === "/" && text[at + 1] === "/") {
      while (at < limit && text[at] !== "\n" && text[at] !== "\r") at++;
      continue;
    }
    if (here === "/" && text[at + 1] === "*") {
      const close = text.indexOf("*/", at + 2);
      if (close === -1 || /[\r\n]/.test(text.slice(at, close))) return undefined;
      at = close + 2;
      continue;
    }
    if (here !== " " && here !== "\t") return undefined;
    at++;
  }
  return undefined;
}

/** The offset after this line's end, where only white space stands from `from` on. */
export function endOfLineIfBlank(text: string, from: number): number | undefined {
  const rest = /^[ \t]*(\r\n|\n|\r)/.exec(text.slice(from, from + 400));
  return rest === null ? undefined : from + rest[0].length;
}
