// The scan of a text after an edit of its log, from the scan before it: only the entries the edit touches and their
// neighbours are read again. Nothing is taken on trust: what is not plainly well-formed there is scanned from the start.

import { quickScan } from "./quick-scan";
import { scanBout, type Scan, type Stretch } from "./scan";
import type { TextEdit } from "./text-edit";
import { deepest } from "./written";

/** The same as `scanBout(text)`, where `text` is the text of `before` with `edits` (in rising order) applied. */
export function rescan(before: Scan, edits: readonly TextEdit[], text: string): Scan {
  return rescanLog(before, edits, text) ?? scanBout(text);
}

/** From one entry to another, or to the brackets of the log: a stretch that begins and ends outside of any value. */
interface Part {
  /** Entries from `first` and before `next` stand in it. */
  readonly first: number;
  readonly next: number;
  readonly from: number;
  readonly to: number;
}

const opening = '{"log":[';

function rescanLog(before: Scan, edits: readonly TextEdit[], text: string): Scan | undefined {
  const { log, entries, stretches, root, broken, problems } = before;
  if (log === undefined || broken || problems.length > 0 || typeof root !== "object") return undefined;
  const part = partOf(edits, log, stretches);
  if (part === undefined) return undefined;
  const { first, next, from, to } = part;
  const grown = edits.reduce((sum, edit) => sum + edit.text.length - edit.length, 0);
  const found = quickScan(`${opening}${text.slice(from, to + grown)}]}`, deepest);
  if (found === undefined) return undefined;
  const moved = from - opening.length;
  const inside = found.stretches.map(({ offset, length }) => ({ offset: offset + moved, length }));
  if (to !== closeOf(log) && endOf(inside.at(-1)) !== to + grown) return undefined;
  const inPart = (found.root as { readonly log: readonly unknown[] }).log;
  const all = [...entries.slice(0, first), ...inPart, ...entries.slice(next)];
  return {
    text,
    root: { ...root, log: all },
    entries: all,
    stretches: [
      ...stretches.slice(0, first),
      ...inside,
      ...stretches.slice(next).map(({ offset, length }) => ({ offset: offset + grown, length })),
    ],
    log: { offset: log.offset, length: log.length + grown },
    problems: [],
    broken: false,
  };
}

/** The part of the log that holds all edits well inside it; undefined where they reach out of the log. */
function partOf(edits: readonly TextEdit[], log: Stretch, stretches: readonly Stretch[]): Part | undefined {
  const [begin, last] = [edits[0]?.offset, edits.at(-1)];
  if (begin === undefined || last === undefined) return undefined;
  const end = last.offset + last.length;
  const close = closeOf(log);
  if (begin <= log.offset || end > close) return undefined;
  const first = Math.max(
    0,
    stretches.findLastIndex(({ offset }) => offset < begin),
  );
  const from = stretches[first];
  const after = stretches.findIndex((stretch) => endOf(stretch) > end);
  const to = stretches[after];
  return {
    first,
    next: to === undefined ? stretches.length : after + 1,
    from: from === undefined || from.offset >= begin ? log.offset + 1 : from.offset,
    to: to === undefined ? close : endOf(to),
  };
}

function closeOf(log: Stretch): number {
  return log.offset + log.length - 1;
}

function endOf(stretch: Stretch | undefined): number {
  return stretch === undefined ? -1 : stretch.offset + stretch.length;
}
