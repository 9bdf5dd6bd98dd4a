// How did the bout go? The score, the lead, the tempo, cards and stops.

import { sides, sidesOf, type Side } from "../bout/words";
import { touchesFor, type Ledger, type Row, type Score, type Sided } from "../rules";
import type { CardLine, Flow, Lead, ScorePoint, StopLine, StopTotal, Tempo } from "./model";
import { parts, type CountedPhrase } from "./phrases";
import { medianOf, type Entries } from "./rates";
import { touchOrder } from "./touch-order";

export function flowOf(ledger: Ledger, phrases: readonly CountedPhrase[]): Flow {
  const line = scoreLine(ledger.rows);
  const stops = stopLines(ledger.rows);
  return {
    line,
    leadChanges: leadChanges(line),
    largestLead: { left: largestLead(line, "left"), right: largestLead(line, "right") },
    order: touchOrder(phrases),
    tempo: tempoOf(ledger.rows),
    cards: cardLines(ledger.rows),
    stops,
    stopsBy: totals(stops, ({ by }) => [by ?? "nobody named"]),
    stopsFor: totals(stops, (stop) => stop.for),
  };
}

function scoreLine(rows: readonly Row[]): readonly ScorePoint[] {
  const points: ScorePoint[] = [];
  let phrase = 0;
  for (const { kind, record, before, state } of rows) {
    if (kind === "phrase") phrase++;
    const by = changes[kind];
    if (by === undefined || same(before.score, state.score)) continue;
    points.push({ entry: record.index, phrase, score: state.score, by });
  }
  return points;
}

const changes: Readonly<Partial<Record<Row["kind"], ScorePoint["by"]>>> = {
  phrase: "phrase",
  review: "review",
  card: "card",
  correction: "correction",
  opening: "not recorded",
  gap: "not recorded",
};

function same(one: Score, other: Score): boolean {
  return one[0] === other[0] && one[1] === other[1];
}

function leadChanges(line: readonly ScorePoint[]): Entries {
  const found: number[] = [];
  let leader = 0;
  for (const { entry, score } of line) {
    const now = Math.sign(score[0] - score[1]);
    if (now !== 0 && leader !== 0 && now !== leader) found.push(entry);
    if (now !== 0) leader = now;
  }
  return found;
}

function largestLead(line: readonly ScorePoint[], side: Side): Lead {
  let largest: Lead = { by: 0, score: [0, 0], entry: null };
  for (const { entry, score } of line) {
    const by = side === "left" ? score[0] - score[1] : score[1] - score[0];
    if (by > largest.by) largest = { by, score, entry };
  }
  return largest;
}

interface Timed {
  readonly seconds: number;
  readonly entry: number;
}

/** A pause runs from a halt to the next command in the same stretch and period; its entry is the phrase after it. */
function tempoOf(rows: readonly Row[]): Tempo {
  const lengths: Timed[] = [];
  const pauses: Timed[] = [];
  const plain: Timed[] = [];
  let halted: number | undefined;
  let eventful = false;
  for (const row of rows) {
    if (row.kind === "phrase" && row.phrase.counts) {
      const { start, halt, play } = row.entry;
      const entry = row.record.index;
      if (play === false) {
        eventful = true;
        continue;
      }
      if (halted !== undefined && start >= halted) {
        const pause = { seconds: (start - halted) / 1000, entry };
        pauses.push(pause);
        if (!eventful) plain.push(pause);
      }
      if (halt !== undefined) lengths.push({ seconds: Math.max(0, halt - start) / 1000, entry });
      halted = halt;
      eventful = false;
    } else if (parts(row) || row.kind === "period") halted = undefined;
    else if (row.kind === "card" || row.kind === "review" || row.kind === "stop") eventful = true;
  }
  const median = (timed: readonly Timed[]) =>
    medianOf(
      timed.map(({ seconds }) => seconds),
      timed.map(({ entry }) => entry),
    );
  return { phrases: median(lengths), pauses: median(pauses), plainPauses: median(plain) };
}

function cardLines(rows: readonly Row[]): readonly CardLine[] {
  return rows.flatMap((row): CardLine[] => {
    if (row.kind !== "card") return [];
    const { to, card, for: offence } = row.entry;
    const counts = row.before.ended === null;
    const cost = (side: Side): number =>
      counts && sidesOf(to).some((hit) => hit !== side) ? touchesFor(card) : 0;
    const costs: Sided<number> = { left: cost(sides[0]), right: cost(sides[1]) };
    return [{ entry: row.record.index, to, card, for: offence ?? null, cost: costs, score: row.state.score }];
  });
}

function stopLines(rows: readonly Row[]): readonly StopLine[] {
  return rows.flatMap((row): StopLine[] => {
    if (row.kind !== "stop") return [];
    const { at, until, for: reasons, by } = row.entry;
    return [
      {
        entry: row.record.index,
        for: typeof reasons === "string" ? [reasons] : reasons,
        by: by ?? null,
        seconds: until === undefined || until < at ? null : (until - at) / 1000,
      },
    ];
  });
}

/** A stop for several reasons stands under each of them. */
function totals(
  stops: readonly StopLine[],
  words: (stop: StopLine) => readonly string[],
): readonly StopTotal[] {
  const named = [...new Set(stops.flatMap(words))];
  return named.map((what) => {
    const found = stops.filter((stop) => words(stop).includes(what));
    const timed = found.filter(({ seconds }) => seconds !== null);
    return {
      what,
      stops: found.map(({ entry }) => entry),
      seconds: timed.reduce((sum, { seconds }) => sum + (seconds ?? 0), 0),
      timed: timed.length,
    };
  });
}
