// What each fencer did: touches, by which actions, where they landed, and how fast they came.

import { scoringActions, sides, type ScoringAction, type Side } from "../bout/words";
import type { Figures, Scored, SideEvidence, SideFigures, StudySheet } from "../figures";
import type { Sided } from "../rules";
import { markup, type Content, type Markup } from "./markup";
import { countRow, group, mirroredTable, row } from "./mirrored";
import { decimal } from "./numbers";
import { perMinuteCell, rateCell } from "./rate-cell";
import type { Reader } from "./reader";

interface Table extends Reader {
  readonly sides: Sided<SideFigures>;
  readonly evidence: Sided<SideEvidence>;
  readonly figures: Figures;
}

export function sidesTable({ sheet, evidence }: StudySheet, figures: Figures, reader: Reader): Markup {
  const table: Table = { ...reader, sides: sheet.sides, evidence: evidence.sides, figures };
  return markup`${mirroredTable(reader.names, "Touches and attempts of each fencer", [
    touches(table),
    byAction(table),
    attempts(table),
    targets(table),
    pace(table),
  ])}${withheld(table)}`;
}

function touches(table: Table): Markup | undefined {
  const { sides: figures, evidence } = table;
  const any = (count: (side: SideFigures) => number) => sides.some((side) => count(figures[side]) !== 0);
  return group("Touches", [
    countRow(
      table,
      "touches",
      "touches in phrases",
      (side) => figures[side].touches,
      (side) => evidence[side].touches,
    ),
    countRow(
      table,
      "penaltyTouches",
      "penalty touches",
      (side) => figures[side].penaltyTouches,
      (side) => evidence[side].penaltyTouches,
    ),
    any(({ unseenTouches }) => unseenTouches) &&
      countRow(table, "unseenTouches", "touches not recorded", (side) => signed(figures[side].unseenTouches)),
    any(({ correctedTouches }) => correctedTouches) &&
      countRow(table, "correctedTouches", "set by the officials", (side) =>
        signed(figures[side].correctedTouches),
      ),
  ]);
}

function signed(count: number): string {
  return decimal(count, 0);
}

const scored: readonly Scored[] = [...scoringActions, "untagged"];

function byAction(table: Table): Markup | undefined {
  const { sides: figures, evidence } = table;
  return group(
    "Touches by action",
    scored
      .filter((action) => sides.some((side) => figures[side].touchesByAction[action] !== undefined))
      .map((action) =>
        countRow(
          table,
          `touchesByAction.${action}`,
          action === "untagged" ? "action not tagged" : action,
          (side) => figures[side].touchesByAction[action] ?? 0,
          (side) => evidence[side].touchesByAction.get(action),
        ),
      ),
    undefined,
    table.figures.conversion.sides !== null,
  );
}

function attempts(table: Table): Markup | undefined {
  const { sides: figures } = table;
  if (table.figures.conversion.sides === null) return undefined;
  return group(
    "Attempts that scored",
    scoringActions
      .filter((action) => sides.some((side) => figures[side].attempts[action] !== undefined))
      .map((action) => row(action, (side) => attempt(table, side, action))),
    "of the phrases in which the fencer used the action",
  );
}

function attempt(
  { sides: figures, evidence, names, play }: Table,
  side: Side,
  action: ScoringAction,
): Content {
  const rate = figures[side].attempts[action];
  if (rate === undefined) return markup`<span class="none">not used</span>`;
  const key = `${side}.attempts.${action}`;
  return rateCell(
    play,
    rate,
    { key, title: `${action} that scored, ${names[side]}` },
    {
      key: `${key}.all`,
      title: `every ${action}, ${names[side]}`,
      entries: evidence[side].attempts.get(action)?.all,
    },
  );
}

/** Where too few phrases have actions, shares by action would speak of the tagging, not of the fencing. */
function withheld({ figures: { conversion } }: Table): Markup | undefined {
  const { count, of } = conversion.told;
  if (conversion.sides !== null || of === 0) return undefined;
  return markup`<p class="key">Only ${count} of ${of} phrases have actions. How often an action scored is told from nine in ten on.</p>`;
}

function targets({ figures, names, play }: Table): Markup | undefined {
  const { left, right } = figures.targets;
  const named = [...new Set([...left.rows, ...right.rows].map(({ target }) => target))];
  if (named.length === 0) return undefined;
  const rows = named.map((target) =>
    row(target, (side) => {
      const found = figures.targets[side].rows.find((one) => one.target === target);
      if (found === undefined) return markup`<span class="none">none</span>`;
      return rateCell(play, found.share, {
        key: `${side}.target.${target}`,
        title: `touches on ${target}, ${names[side]}`,
      });
    }),
  );
  const given = (side: Side) => `${figures.targets[side].given.count} of ${figures.targets[side].given.of}`;
  return group(
    "Where the touches landed",
    rows,
    `of the touches with a target: ${given("left")} left, ${given("right")} right`,
  );
}

function pace({ sides: figures, names, play }: Table): Markup | undefined {
  const most = Math.max(1, ...sides.map((side) => figures[side].touchesPerMinute.high ?? 0));
  return group("Pace", [
    row("touches per phrase", (side) =>
      rateCell(play, figures[side].touchesPerPhrase, {
        key: `${side}.touchesPerPhrase`,
        title: `touches in phrases, ${names[side]}`,
      }),
    ),
    row("touches per minute", (side) =>
      perMinuteCell(
        play,
        figures[side].touchesPerMinute,
        { key: `${side}.touchesPerMinute`, title: `touches in phrases, ${names[side]}` },
        most,
      ),
    ),
  ]);
}
