// Which bytes of a recording a request asks for (RFC 9110, section 14).

/** Bytes `from` to `to`, both included; "whole" without a range that counts; "outside" answers 416. */
export type Stretch = { readonly from: number; readonly to: number } | "whole" | "outside";

/** A range this server does not understand, or several at once, counts as none: RFC 9110 lets a server ignore both. */
export function stretchOf(header: string | undefined, size: number): Stretch {
  const found = /^bytes=[ \t]*(\d*)-(\d*)[ \t]*$/i.exec(header ?? "");
  if (found === null) return "whole";
  const [, first = "", last = ""] = found;
  if (first === "") {
    if (last === "") return "whole";
    const length = Math.min(Number(last), size);
    return length === 0 ? "outside" : { from: size - length, to: size - 1 };
  }
  const from = Number(first);
  const to = last === "" ? Infinity : Number(last);
  if (to < from) return "whole";
  return from >= size ? "outside" : { from, to: Math.min(to, size - 1) };
}
