// What each fencer did, side by side as on the piste: the left fencer's numbers on the left, the right one's on the
// right, what they count between them.

import { scoringActions, sides, type CardColour, type ScoringAction, type Side } from "../bout/words";
import type { Scored, SideEvidence, SideFigures, StudySheet } from "../figures";
import type { Sided } from "../rules";
import type { Play } from "./evidence";
import { markup, type Content, type Markup } from "./markup";
import { decimal } from "./numbers";
import { perMinuteCell, rateCell } from "./rate-cell";

interface Table {
  readonly figures: Sided<SideFigures>;
  readonly evidence: Sided<SideEvidence>;
  readonly names: Sided<string>;
  readonly play: Play;
}

export function sidesTable({ sheet, evidence }: StudySheet, names: Sided<string>, play: Play): Markup {
  const table: Table = { figures: sheet.sides, evidence: evidence.sides, names, play };
  return markup`<table class="sides"><thead><tr>${heading("left", names)}<td></td>${heading("right", names)}</tr></thead>${[
    touches(table),
    byAction(table),
    attempts(table),
    opened(table),
    pace(table),
    appeals(table),
    cards(table),
  ]}</table>`;
}

function heading(side: Side, names: Sided<string>): Markup {
  return markup`<th scope="col" class="${side}"><span class="fencer">${names[side]}</span> <span class="side">${side}</span></th>`;
}

function group(title: string, rows: readonly Content[], note?: string): Markup | undefined {
  const filled = rows.filter((row) => row !== undefined && row !== false);
  if (filled.length === 0) return undefined;
  return markup`<tbody><tr class="group"><th colspan="3" scope="rowgroup">${title}${
    note !== undefined && markup` <span class="note">${note}</span>`
  }</th></tr>${filled}</tbody>`;
}

function row(title: string, cell: (side: Side) => Content): Markup {
  return markup`<tr><td class="left">${cell("left")}</td><th scope="row">${title}</th><td class="right">${cell("right")}</td></tr>`;
}

/** A row of plain counts, each of which plays its entries. */
function countRow(
  { names, play }: Table,
  key: string,
  title: string,
  count: (side: Side) => number | string,
  entries?: (side: Side) => readonly number[] | undefined,
): Markup {
  return row(title, (side) =>
    play({ key: `${side}.${key}`, title: `${title}, ${names[side]}`, entries: entries?.(side) }, count(side)),
  );
}

function touches(table: Table): Markup | undefined {
  const { figures, evidence } = table;
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
  const { figures, evidence } = table;
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
  );
}

function attempts(table: Table): Markup | undefined {
  const { figures } = table;
  return group(
    "Attempts that scored",
    scoringActions
      .filter((action) => sides.some((side) => figures[side].attempts[action] !== undefined))
      .map((action) => row(action, (side) => attempt(table, side, action))),
    "of the phrases in which the fencer used the action",
  );
}

function attempt({ figures, evidence, names, play }: Table, side: Side, action: ScoringAction): Content {
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

function opened(table: Table): Markup | undefined {
  const { figures, evidence } = table;
  const line = (field: keyof SideFigures["opened"], title: string) =>
    countRow(
      table,
      `opened.${field}`,
      title,
      (side) => figures[side].opened[field],
      (side) => evidence[side].opened[field],
    );
  return group(
    "Opened the phrase alone",
    [
      line("phrases", "phrases opened"),
      line("for", "then scored"),
      line("against", "then was hit"),
      line("nothing", "then no touch"),
    ],
    "the first action that can score",
  );
}

function pace({ figures, names, play }: Table): Markup | undefined {
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

function appeals(table: Table): Markup | undefined {
  const { figures, evidence, names, play } = table;
  const asked = sides.some((side) => figures[side].appeals.asked > 0);
  const left = sides.some((side) => figures[side].appeals.left !== null);
  return group(
    "Video appeals",
    [
      (asked || left) &&
        countRow(
          table,
          "appeals.asked",
          "asked for",
          (side) => figures[side].appeals.asked,
          (side) => evidence[side].appeals.asked,
        ),
      asked &&
        row("granted", (side) => {
          const { success } = figures[side].appeals;
          return success.of === 0
            ? markup`<span class="none">none with a picture</span>`
            : rateCell(play, success, {
                key: `${side}.appeals.success`,
                title: `appeals granted, ${names[side]}`,
              });
        }),
      left &&
        countRow(table, "appeals.left", "left at the end", (side) => figures[side].appeals.left ?? "unknown"),
    ],
    asked ? "those without a picture left out of the rate" : undefined,
  );
}

const cardOrder: readonly CardColour[] = ["yellow", "red", "black", "P-yellow", "P-red", "P-black"];

function cards(table: Table): Markup | undefined {
  const { figures, evidence } = table;
  return group(
    "Cards",
    cardOrder
      .filter((card) => sides.some((side) => (figures[side].cards[card] ?? 0) > 0))
      .map((card) =>
        countRow(
          table,
          `cards.${card}`,
          card,
          (side) => figures[side].cards[card] ?? 0,
          (side) => evidence[side].cards.get(card),
        ),
      ),
  );
}
