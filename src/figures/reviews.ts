// What were video reviews asked for, and what came of them?

import { opponent, sides, type Side, type Standing } from "../bout/words";
import { hasTouch, lampLit, type Ledger, type PhraseRow, type ReviewRow, type Sided } from "../rules";
import { scoringActionOf } from "../rules/phrases";
import type {
  AppealFigures,
  ContestedLamps,
  ContestedRow,
  ReviewFigures,
  ReviewLine,
  Reviews,
  Situation,
} from "./model";
import { familyScored, forBoth } from "./opened";
import { parts, type CountedPhrase } from "./phrases";
import { exact, medianOf, type Entries, type EvidencedRate } from "./rates";

export function reviewsOf(ledger: Ledger, phrases: readonly CountedPhrase[]): Reviews {
  const lines = linesOf(ledger);
  const appeals = lines.filter(({ by }) => isSide(by));
  return {
    sides: forBoth((side) => appealFigures(side, lines, phrases)),
    officials: reviewFigures(lines.filter(({ by }) => !isSide(by))),
    lines,
    byLamps: contestedRows(appeals, ({ lamps }) => lamps),
    byAction: contestedRows(appeals, ({ contested }) => contested),
    appealsLeft: appealsLeftOver(ledger),
  };
}

function isSide(by: string): by is Side {
  return by === "left" || by === "right";
}

function linesOf({ rows, byEntry }: Ledger): readonly ReviewLine[] {
  return rows.flatMap((row, index): ReviewLine[] => {
    if (row.kind !== "review") return [];
    const phrase = row.of === null ? undefined : byEntry[row.of];
    const of = phrase?.kind === "phrase" ? phrase : undefined;
    const { by, result, at } = row.entry;
    const asker = isSide(by) ? by : null;
    const next = rows.slice(index + 1).find((later) => later.kind === "phrase" || parts(later));
    const resumed = next?.kind === "phrase" && next.entry.start >= at ? (next.entry.start - at) / 1000 : null;
    return [
      {
        entry: row.record.index,
        of: row.of,
        by,
        result,
        stood: row.stood,
        stands: row.stands,
        score: row.before.score,
        situation: asker === null ? null : situationOf(row, asker),
        seconds: resumed,
        swung: of?.phrase.counts === true ? balance(row.stands, asker) - balance(row.stood, asker) : 0,
        lamps: of === undefined ? "lamps not recorded" : lampsOf(of),
        contested: contestedIn(row, of),
        appealsLeft: row.state.appeals,
      },
    ];
  });
}

function situationOf({ before: { score } }: ReviewRow, asker: Side): Situation {
  const ahead = asker === "left" ? score[0] - score[1] : score[1] - score[0];
  return ahead > 0 ? "ahead" : ahead < 0 ? "behind" : "level";
}

/** Touches of the side less those of the other; of officials' reviews as left sees it. */
function balance(standing: Standing | null, asker: Side | null): number {
  const side = asker ?? "left";
  return Number(hasTouch(standing, side)) - Number(hasTouch(standing, opponent(side)));
}

function lampsOf({ entry }: PhraseRow): ContestedLamps {
  if (entry.lamps === undefined) return "lamps not recorded";
  const lit = sides.filter((side) => lampLit(entry, side, "valid") === true).length;
  return lit === 2 ? "both lamps" : lit === 1 ? "one lamp" : "no lamp";
}

/** What stood when the review was asked for. */
function contestedIn({ stood }: ReviewRow, of: PhraseRow | undefined): ReviewLine["contested"] {
  if (of === undefined || stood === null) return "not called";
  if (stood === "none") return "no touch";
  const side: Side = stood === "right" ? "right" : "left";
  return familyScored(scoringActionOf(of.entry, side)) ?? "untagged";
}

function reviewFigures(lines: readonly ReviewLine[]): ReviewFigures {
  const asked = lines.map(({ entry }) => entry);
  const withResult = (result: ReviewLine["result"]) => entriesWhere(lines, (line) => line.result === result);
  const noPicture = withResult("no picture");
  const timed = lines.filter(({ seconds }) => seconds !== null);
  return {
    asked,
    granted: withResult("changed"),
    kept: withResult("kept"),
    decided: withResult("decided"),
    noPicture,
    success: exact(withResult("changed"), asked.length - noPicture.length),
    swung: lines.reduce((sum, { swung }) => sum + swung, 0),
    seconds: medianOf(
      timed.map(({ seconds }) => seconds ?? 0),
      timed.map(({ entry }) => entry),
    ),
  };
}

const situations: readonly Situation[] = ["ahead", "level", "behind"];

function appealFigures(
  side: Side,
  lines: readonly ReviewLine[],
  phrases: readonly CountedPhrase[],
): AppealFigures {
  const own = lines.filter(({ by }) => by === side);
  const lost = phrases.filter(
    ({ row: { phrase } }) =>
      phrase.bothLamps && phrase.stands === opponent(side) && phrase.reviews.length === 0,
  );
  const entries = (found: readonly CountedPhrase[]) => found.map(({ entry }) => entry);
  const counted = lost.every(({ row }) => row.state.appeals !== null);
  return {
    ...reviewFigures(own),
    bySituation: Object.fromEntries(
      situations.map((situation) => [
        situation,
        successOf(own.filter((line) => line.situation === situation)),
      ]),
    ) as Record<Situation, EvidencedRate>,
    notAppealed: entries(lost),
    notAppealedWithAppeal: counted
      ? entries(lost.filter(({ row }) => (row.state.appeals?.[side] ?? 0) > 0))
      : null,
  };
}

/** Changed, of those that had a picture. */
function successOf(lines: readonly ReviewLine[]): EvidencedRate {
  const judged = lines.filter(({ result }) => result !== "no picture");
  return exact(
    entriesWhere(judged, ({ result }) => result === "changed"),
    judged.length,
  );
}

function contestedRows(
  lines: readonly ReviewLine[],
  word: (line: ReviewLine) => string,
): readonly ContestedRow[] {
  return [...new Set(lines.map(word))].map((what) => {
    const asked = lines.filter((line) => word(line) === what);
    return { what, asked: asked.map(({ entry }) => entry), changed: successOf(asked) };
  });
}

function entriesWhere(lines: readonly ReviewLine[], wanted: (line: ReviewLine) => boolean): Entries {
  return lines.filter(wanted).map(({ entry }) => entry);
}

function appealsLeftOver({ start, rows }: Ledger): Reviews["appealsLeft"] {
  let before = start.appeals;
  const points: { entry: number | null; left: Sided<number> }[] = [];
  if (before !== null) points.push({ entry: null, left: before });
  for (const { state, record } of rows) {
    const now = state.appeals;
    if (now !== null && (now.left !== before?.left || now.right !== before.right))
      points.push({ entry: record.index, left: now });
    before = now;
  }
  return points;
}
