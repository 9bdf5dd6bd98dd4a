// The calls of a bout as subtitles of its recording, as WebVTT (W3C) and as SubRip.

import { formatTime, type Milliseconds } from "../bout/time";
import { countedRows } from "../figures";
import type { Ledger } from "../rules";
import { callSentence } from "../rules/call";

interface Call {
  readonly number: number;
  readonly from: Milliseconds;
  readonly to: Milliseconds;
  readonly text: string;
}

/** Milliseconds a call stays after the halt, unless the next phrase begins: long enough to be read. */
const staying = 3000;

/** From the command to fence on. Times are those of the first recording; the words are those of lists, never the user's. */
function callsOf(ledger: Ledger): readonly Call[] {
  const rows = countedRows(ledger).filter(({ phrase }) => phrase.closed);
  return rows.map((row, index) => {
    const from = row.entry.start;
    const halt = Math.max(row.entry.halt ?? from, from + 1);
    const next = rows[index + 1]?.entry.start ?? Infinity;
    const to = Math.max(halt, Math.min(halt + staying, next)) as Milliseconds;
    const { score } = ledger.byEntry[row.phrase.reviews.at(-1) ?? row.record.index]?.state ?? row.state;
    return {
      number: row.phrase.number,
      from,
      to,
      text: `${callSentence(row, ledger)} (${score[0]}\u2013${score[1]})`,
    };
  });
}

export function webVtt(ledger: Ledger): string {
  const cues = callsOf(ledger).map(
    ({ number, from, to, text }) =>
      `phrase ${number}\n${stamp(from, ".")} --> ${stamp(to, ".")}\n${escaped(text)}\n`,
  );
  return ["WEBVTT\n", ...cues].join("\n");
}

export function subRip(ledger: Ledger): string {
  return callsOf(ledger)
    .map(({ from, to, text }, index) => `${index + 1}\n${stamp(from, ",")} --> ${stamp(to, ",")}\n${text}\n`)
    .join("\n");
}

/** `hh:mm:ss.mmm` */
function stamp(time: Milliseconds, point: string): string {
  return formatTime(time).padStart(12, "0").replace(".", point);
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
