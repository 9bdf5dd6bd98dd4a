// A study sheet as lines for a terminal.

import type { Bout } from "../bout/read";
import { scoringActions, sides, weaponName, type Side } from "../bout/words";
import { caution, type Sheet, type SideFigures } from "../figures";
import type { Finding } from "../rules";
import type { PlaceInText } from "./check";
import { plain, rateText, table } from "./lines";

export function sheetLines(
  sheet: Sheet,
  bout: Bout,
  placeOf: (finding: Finding) => PlaceInText,
  figures: readonly string[],
): readonly string[] {
  const lines = [
    ...heading(bout),
    "",
    ...figures,
    "",
    ...sidesTable(sheet, bout),
    "",
    ...whole(sheet),
    ...drift(sheet.drift),
    "",
    ...findings(sheet.findings, placeOf),
    "",
    ...caution,
  ];
  return lines.map(plain);
}

function heading({ about }: Bout): string[] {
  const { title, event, round, date, weapon, format, rules } = about;
  const where = [event, round, date].filter((text) => text !== undefined).join(", ");
  return [title, where, `${weaponName(weapon)}, ${format}, counted by ${rules}`].filter(
    (line): line is string => line !== undefined && line !== "",
  );
}

type Row = readonly [label: string, left: string, right: string];

function sidesTable({ score, winner, sides: figures }: Sheet, { fencers }: Bout): string[] {
  const both = (label: string, value: (side: SideFigures) => string): Row => [
    label,
    value(figures.left),
    value(figures.right),
  ];
  const count = (label: string, value: (side: SideFigures) => number): Row[] =>
    sides.some((side) => value(figures[side]) !== 0) ? [both(label, (side) => String(value(side)))] : [];
  const won = (side: Side) => (winner === side ? ", winner" : "");
  return table([
    ["", `${fencers.left.name} (left)`, `${fencers.right.name} (right)`],
    ["score", `${score[0]}${won("left")}`, `${score[1]}${won("right")}`],
    both("touches in phrases", ({ touches }) => String(touches)),
    ...count("  from the opponent's cards", ({ penaltyTouches }) => penaltyTouches),
    ...count("  in parts not recorded", ({ unseenTouches }) => unseenTouches),
    ...count("  from corrections", ({ correctedTouches }) => correctedTouches),
    ...actionRows(figures),
    both("opened alone", ({ opened }) => String(opened.phrases)),
    both("  touch for", ({ opened }) => String(opened.for)),
    both("  touch against", ({ opened }) => String(opened.against)),
    both("  no touch", ({ opened }) => String(opened.nothing)),
    both("touches a phrase", ({ touchesPerPhrase }) => rateText(touchesPerPhrase)),
    both("touches a minute", ({ touchesPerMinute }) => minuteText(touchesPerMinute)),
    both("appeals asked", ({ appeals }) => String(appeals.asked)),
    both("  granted", ({ appeals }) => rateText(appeals.success)),
    both("  left", ({ appeals }) => (appeals.left === null ? "-" : String(appeals.left))),
    both("cards", ({ cards }) => cardText(cards)),
  ]);
}

const untagged = "untagged" as const;

function actionRows(figures: Sheet["sides"]): Row[] {
  const actions = [...scoringActions, untagged].filter((action) =>
    sides.some(
      (side) =>
        (action !== untagged && figures[side].attempts[action] !== undefined) ||
        figures[side].touchesByAction[action] !== undefined,
    ),
  );
  const cell = ({ attempts, touchesByAction }: SideFigures, action: (typeof actions)[number]) => {
    const rate = action === untagged ? undefined : attempts[action];
    const touches = touchesByAction[action] ?? 0;
    if (rate === undefined) return touches === 0 ? "-" : String(touches);
    return touches === rate.count ? rateText(rate) : `${rateText(rate)}; ${touches} in all`;
  };
  return actions.map((action) => [`  by ${action}`, cell(figures.left, action), cell(figures.right, action)]);
}

function minuteText({ value, low, high }: SideFigures["touchesPerMinute"]): string {
  if (value === null || low === null || high === null) return "-";
  return `${value.toFixed(2)} (${low.toFixed(2)}\u2013${high.toFixed(2)})`;
}

function cardText(cards: SideFigures["cards"]): string {
  const shown = Object.entries(cards).filter(([, count]) => count > 0);
  return shown.length === 0 ? "none" : shown.map(([card, count]) => `${card} ${count}`).join(", ");
}

function whole({ phrases, fencingSeconds, tagged, bothLamps, reviews: { byOfficials } }: Sheet): string[] {
  const { left, right, neither, both } = bothLamps;
  const double = both === undefined ? "" : `, both ${both}`;
  return table([
    ["phrases", `${phrases}, with actions ${rateText(tagged)}`],
    ["fencing time", `${clock(fencingSeconds)} (${fencingSeconds.toFixed(2)} s)`],
    ["both lamps", `touch left ${left}, right ${right}${double}, neither ${neither}`],
    [
      "reviews by officials",
      `${byOfficials.asked}, changed ${byOfficials.changed}, decided ${byOfficials.decided}`,
    ],
  ]);
}

function clock(seconds: number): string {
  const rounded = Math.round(seconds * 10) / 10;
  const minutes = Math.floor(rounded / 60);
  return `${minutes}:${(rounded - 60 * minutes).toFixed(1).padStart(4, "0")}`;
}

function drift(found: Sheet["drift"]): string[] {
  if (found === null) return [];
  const { steps, towards, note, alongPerPhrase, turnPerPhrase, signTest, byOpener, gap } = found;
  const limits = (estimate: typeof alongPerPhrase, times: number, digits: number, unit: string) =>
    estimate === null
      ? "too few steps with phrases"
      : `${(estimate.value * times).toFixed(digits)} ${unit} a phrase (${(estimate.low * times).toFixed(digits)} to ${(estimate.high * times).toFixed(digits)})`;
  const opener = (side: "left" | "right" | "other", says: string) => {
    const { phrases, perPhrase } = byOpener[side];
    return perPhrase === null ? [] : [`${says} ${(perPhrase * 1000).toFixed(0)} mm a phrase over ${phrases}`];
  };
  const openers = [
    ...opener("left", "opened by left"),
    ...opener("right", "opened by right"),
    ...opener("other", "otherwise"),
    ...(byOpener.p === null ? [] : [chance(byOpener.p)]),
  ];
  return [
    "",
    ...table([
      [
        "drift",
        `${steps.length} steps; towards ${towards ?? `neither end; ${note ?? "the data can't tell"}`}`,
      ],
      ["  along (+ right)", limits(alongPerPhrase, 1000, 0, "mm")],
      ["  turn (+ counter-clockwise)", limits(turnPerPhrase, 1, 2, "degrees")],
      ["  steps right, left", `${signTest.right}, ${signTest.left}; ${chance(signTest.p)}`],
      ...(openers.length === 0 ? [] : [["  along by opener", openers.join("; ")]]),
      ...(gap === null ? [] : [["  gap", gapText(gap)]]),
    ]),
  ];
}

function chance(p: number): string {
  return p < 0.0001 ? "p < 0.0001" : `p = ${p.toFixed(4)}`;
}

function gapText({ first, last, change, error }: NonNullable<NonNullable<Sheet["drift"]>["gap"]>): string {
  const ends = `${first.toFixed(3)} m, then ${last.toFixed(3)} m`;
  return change === null || error === null
    ? ends
    : `${ends}: ${(change * 1000).toFixed(0)} mm \u00b1 ${(error * 1000).toFixed(0)}`;
}

function findings(found: readonly Finding[], placeOf: (finding: Finding) => PlaceInText): string[] {
  if (found.length === 0) return ["findings: none"];
  return [
    "findings",
    ...found.map((finding) => {
      const { line, column } = placeOf(finding);
      return `  ${line}:${column}: ${finding.severity} ${finding.rule} ${finding.message}`;
    }),
  ];
}
