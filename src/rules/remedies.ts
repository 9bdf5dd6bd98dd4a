// What can be done about a finding, each remedy one small edit of the file. A slip of the tagger is put right. Where the
// officials went another way than the rule, the file keeps what happened: it is either confirmed, or the score they set
// is written down. What the board showed and which card was shown is never changed.

import type { Change } from "../bout/edit";
import { formatTime, type Milliseconds } from "../bout/time";
import { opponent } from "../bout/words";
import { timeField, timeOf } from "../bout/written";
import type { Finding } from "./findings";
import { isRuleId, ruleBook } from "./findings/rule-book";
import type { Ledger } from "./ledger";
import type { PhraseRow, Row, Score } from "./rows";

/** What a remedy does, for a host that wants to prefer or group some. */
export type RemedyKind = "put right" | "confirm" | "correct the score";

export interface Remedy {
  readonly kind: RemedyKind;
  /** What the offer says. */
  readonly title: string;
  readonly change: Change;
}

/** The remedies there are for a finding, the likeliest first; none for most. */
export function remediesOf(finding: Finding, ledger: Ledger): readonly Remedy[] {
  const { entry, rule } = finding;
  const row = entry === undefined ? undefined : ledger.byEntry[entry];
  if (row === undefined || !isRuleId(rule)) return [];
  const repair = repairOf(rule, row, ledger);
  const officials =
    ruleBook[rule] === "officials" && row.entry.confirmed !== true
      ? [confirm(row), ...correction(rule, row)]
      : [];
  return repair === undefined ? officials : [repair, ...officials];
}

function repairOf(rule: string, row: Row, ledger: Ledger): Remedy | undefined {
  switch (rule) {
    case "halt-before-start":
      return row.kind === "phrase" ? swapTimes(row) : undefined;
    case "out-of-order":
      return putInPlace(row, ledger);
    case "period-too-long":
    case "missing-sabre-break":
      return row.kind === "phrase" ? insertPeriod(row, ledger) : undefined;
    default:
      return undefined;
  }
}

function swapTimes({ entry, record }: PhraseRow): Remedy | undefined {
  if (entry.halt === undefined) return undefined;
  return {
    kind: "put right",
    title: "Swap the start and the halt of this phrase",
    change: {
      do: "change",
      index: record.index,
      fields: [
        { path: ["start"], value: formatTime(entry.halt) },
        { path: ["halt"], value: formatTime(entry.start) },
      ],
    },
  };
}

/** Of two entries that stand the wrong way round, the one that fits nowhere there: the later one, unless it fits well
 * below the entry above both. Writing its own time again puts an entry in its place. */
function putInPlace(row: Row, { rows }: Ledger): Remedy | undefined {
  const position = rows.indexOf(row);
  const above = rows[position - 1];
  const before = rows[position - 2];
  if (above === undefined) return undefined;
  const fits = before === undefined || timeOf(before.entry) <= timeOf(row.entry);
  const moved = fits ? above : row;
  return {
    kind: "put right",
    title: fits
      ? `Move the entry of ${above.record.at} to its place in time`
      : "Move this entry to its place in time",
    change: {
      do: "change",
      index: moved.record.index,
      fields: [{ path: [timeField(moved.kind)], value: moved.record.at }],
    },
  };
}

/** The next period begins after whatever follows the phrase before: its review, its card, the board. */
function insertPeriod(row: PhraseRow, ledger: Ledger): Remedy | undefined {
  const { period } = row.before;
  const { periods } = ledger.edition.formats[ledger.bout.about.format];
  if (period === "extra" || periods.value === null || period >= periods.value) return undefined;
  const number = period + 1;
  if (row.before.fencingInPeriod === 0) return undefined;
  const above = ledger.rows[ledger.rows.indexOf(row) - 1];
  if (above === undefined) return undefined;
  const end = above.kind === "phrase" ? (above.entry.halt ?? above.entry.start) : timeOf(above.entry);
  const at = Math.max(timeOf(above.entry), Math.min(end, row.entry.start - 1)) as Milliseconds;
  if (at >= row.entry.start) return undefined;
  return {
    kind: "put right",
    title: `Insert the start of period ${number} above this phrase`,
    change: { do: "insert", entry: { kind: "period", at: formatTime(at), number } },
  };
}

function confirm({ record }: Row): Remedy {
  return {
    kind: "confirm",
    title: "This is what happened",
    change: { do: "change", index: record.index, fields: [{ path: ["confirmed"], value: true }] },
  };
}

function correction(rule: string, row: Row): Remedy[] {
  const score = correctedScore(rule, row);
  if (score === undefined) return [];
  return [
    {
      kind: "correct the score",
      title: `The officials corrected the score here, to ${score[0]}:${score[1]}`,
      change: {
        do: "insert",
        entry: { kind: "correction", at: row.record.at, score: [score[0], score[1]] },
      },
    },
  ];
}

/** The score as the officials would have set it, had they followed the rule, or the board, at this entry. */
function correctedScore(rule: string, row: Row): Score | undefined {
  const [left, right] = row.state.score;
  switch (rule) {
    case "board-disagrees":
    case "penalty-touch-not-on-board":
      return row.kind === "board" ? row.entry.score : undefined;
    case "second-yellow":
    case "yellow-after-red": {
      // Each fencer's card should have been red: a touch to the opponent.
      if (row.kind !== "card" || row.entry.to === "both") return undefined;
      return opponent(row.entry.to) === "left" ? [left + 1, right] : [left, right + 1];
    }
    case "red-without-cause":
      // It should have been yellow: no touch.
      return row.kind === "card" && row.before.score !== row.state.score ? row.before.score : undefined;
    case "touch-not-annulled":
      if (row.kind !== "card" || row.entry.to === "both") return undefined;
      return row.entry.to === "left" ? [Math.max(0, left - 1), right] : [left, Math.max(0, right - 1)];
    default:
      return undefined;
  }
}
