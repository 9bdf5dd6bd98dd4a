import { describe, expect, test } from "vitest";
import { sheetOf, stepsOf } from "../../src/figures";
import { findingsOf } from "../../src/rules";
import { at, ledgerOf, phrase, type About, type Written } from "../rules/bouts";

function sheetFor(about: About, log: readonly Written[]) {
  const ledger = ledgerOf(about, log);
  return sheetOf(ledger, findingsOf(ledger));
}

const both = { left: "valid", right: "valid" };
/** A short épée bout; the comment gives the score after each entry. */
const worked: readonly Written[] = [
  { kind: "opening", at: at("0:00"), score: [2, 1] }, // 2:1
  phrase("0:10", "0:20", { actions: ["left attack", "right parry", "right riposte"], award: "right" }), // 2:2
  phrase("0:30", "0:36", { actions: ["left attack", "right counter-attack"], award: "both", lamps: both }), // 3:3
  phrase("0:40", "0:44", { actions: ["both attack"], award: "none", lamps: both, because: "undecided" }), // 3:3
  phrase("0:50", "0:55.5", { actions: ["right attack", "right remise"], award: "left", lamps: both }), // 4:3
  { kind: "review", at: at("0:58"), by: "right", result: "changed", award: "right" }, // 3:4
  { kind: "card", at: at("1:00"), to: "left", card: "yellow", for: "hair" },
  { kind: "card", at: at("1:05"), to: "left", card: "red", for: "hair" }, // 3:5
  phrase("1:10", "1:12", { play: false, award: "none", because: "early start" }), // 3:5
  phrase("1:20", "1:24", { actions: ["left attack", "left remise"], award: "left", scored: "attack" }), // 4:5
  { kind: "review", at: at("1:26"), by: "left", result: "no picture" },
  { kind: "correction", at: at("1:30"), score: [4, 4] }, // 4:4
  phrase("1:40", "1:44.5", { award: "left", annulled: "left", for: "card" }), // 4:4
  phrase("1:50", "1:56", { award: "pending", lamps: both, actions: ["left attack"] }), // 4:4
  { kind: "review", at: at("2:00"), by: "referee", result: "decided", award: "left" }, // 5:4
  { kind: "phrase", start: at("2:10"), actions: ["left attack"] },
];

describe("a bout counted by hand", () => {
  const { sheet, evidence } = sheetFor({ weapon: "epee" }, worked);
  const { left, right } = sheet.sides;

  test("score, phrases and fencing time", () => {
    expect(sheet.score).toEqual([5, 4]);
    expect(sheet.winner).toBeNull();
    // Eight of nine phrases are halted; 10 + 6 + 4 + 5.5 + 0 (early start) + 4 + 4.5 + 6 seconds.
    expect(sheet.phrases).toBe(8);
    expect(sheet.fencingSeconds).toBe(40);
    expect(sheet.tagged).toMatchObject({ count: 6, of: 8, value: 0.75 });
  });

  test("where each side's touches come from", () => {
    expect(left).toMatchObject({ touches: 3, penaltyTouches: 0, unseenTouches: 2, correctedTouches: 0 });
    expect(right).toMatchObject({ touches: 3, penaltyTouches: 1, unseenTouches: 1, correctedTouches: -1 });
    expect(left.touchesByAction).toEqual({ attack: 3 });
    expect(right.touchesByAction).toEqual({ riposte: 1, "counter-attack": 1, remise: 1 });
  });

  test("each action: scored of used, a shared one for both sides", () => {
    const counts = (attempts: typeof left.attempts) =>
      Object.entries(attempts).map(([action, { count, of }]) => `${action} ${count}/${of}`);
    expect(counts(left.attempts)).toEqual(["attack 3/5", "remise 0/1"]);
    expect(counts(right.attempts)).toEqual(["attack 0/2", "riposte 1/1", "counter-attack 1/1", "remise 1/1"]);
  });

  test("opened alone, by what stood; a double counts for and against", () => {
    expect(left.opened).toEqual({ phrases: 4, for: 3, against: 2, nothing: 0 });
    expect(right.opened).toEqual({ phrases: 1, for: 1, against: 0, nothing: 0 });
  });

  test("both lamps, by the award that stood", () =>
    expect(sheet.bothLamps).toEqual({ left: 1, right: 1, both: 1, neither: 1 }));

  test("reviews and cards", () => {
    expect(left.appeals).toMatchObject({ asked: 1, granted: 0, left: 2, success: { count: 0, of: 0 } });
    expect(right.appeals).toMatchObject({ asked: 1, granted: 1, left: 2, success: { count: 1, of: 1 } });
    expect(sheet.reviews.byOfficials).toEqual({ asked: 1, changed: 0, decided: 1 });
    expect(left.cards).toEqual({ yellow: 1, red: 1, black: 0 });
    expect(right.cards).toEqual({ yellow: 0, red: 0, black: 0 });
  });

  test("rates carry their limits: Wilson, Clopper-Pearson, Garwood", () => {
    // Wilson (1927) for 3 of 8: (6 + z² ± z √(z² + 4 · 3 · 5 / 8)) / (2 (8 + z²)) with z = 1.959964.
    expect(left.touchesPerPhrase.low).toBeCloseTo(0.136842, 5);
    expect(left.touchesPerPhrase.high).toBeCloseTo(0.694258, 5);
    // Clopper and Pearson (1934): for n of n the lower limit is 0.025^(1/n).
    expect(right.appeals.success).toMatchObject({ value: 1, high: 1 });
    expect(right.appeals.success.low).toBeCloseTo(0.025, 12);
    // Garwood (1936): 0.6187 to 8.7673 for 3 events, here in two thirds of a minute.
    expect(left.touchesPerMinute).toMatchObject({ count: 3, minutes: 40 / 60, value: 4.5 });
    expect(left.touchesPerMinute.low).toBeCloseTo(0.618672 * 1.5, 4);
    expect(left.touchesPerMinute.high).toBeCloseTo(8.767273 * 1.5, 4);
    expect(left.appeals.success).toMatchObject({ value: null, low: null, high: null });
  });

  test("figures name the entries behind them", () => {
    expect(left.attempts.attack?.entries).toEqual([2, 9, 13]);
    expect(sheet.tagged.entries).toEqual([1, 2, 3, 4, 9, 13]);
    expect(right.appeals.success.entries).toEqual([5]);
    expect(evidence.sides.left.attempts.get("attack")?.all).toEqual([1, 2, 3, 9, 13]);
    expect(evidence.sides.right.penaltyTouches).toEqual([7]);
    expect(evidence.sides.left.opened.against).toEqual([1, 2]);
    expect(evidence.bothLamps.neither).toEqual([3]);
    expect(evidence.officials.decided).toEqual([14]);
  });

  test("findings come along", () =>
    expect(sheet.findings.map(({ rule, entry }) => [rule, entry])).toEqual([["not-halted", 15]]));
});

test("an empty log gives a sheet without a number made up", () => {
  const { sheet } = sheetFor({}, []);
  expect(sheet).toMatchObject({ score: [0, 0], winner: null, phrases: 0, fencingSeconds: 0, drift: null });
  expect(sheet.tagged).toMatchObject({ count: 0, of: 0, value: null, low: null, high: null });
  expect(sheet.sides.left.touchesPerMinute).toMatchObject({ count: 0, minutes: 0, value: null });
  expect(sheet.bothLamps).toEqual({ left: 0, right: 0, neither: 0 });
});

test("without video refereeing no appeals are left to count", () =>
  expect(sheetFor({ video: false }, []).sheet.sides.left.appeals.left).toBeNull());

test("P-cards appear under their own names when there are any", () =>
  expect(
    sheetFor({}, [{ kind: "card", at: at("1:10"), to: "both", card: "P-red" }]).sheet.sides.left.cards,
  ).toEqual({ yellow: 0, red: 0, black: 0, "P-red": 1 }));

test("an award before the halt is in the score and in no rate", () => {
  const { sheet } = sheetFor({}, [
    { kind: "phrase", start: at("0:10"), award: "left", lamps: { left: "valid" } },
  ]);
  expect(sheet.sides.left).toMatchObject({ touches: 1, touchesPerPhrase: { count: 0, of: 0 } });
});

describe("drift: steps between platforms", () => {
  // Two points 4 m apart over 0.8 of the picture's width: 5 m for the whole width.
  const scale: Written[] = [
    { image: [0.1, 0.8], floor: [-2, 0] },
    { image: [0.9, 0.8], floor: [2, 0] },
  ];
  const fit = (time: string): Written => ({ kind: "fit", at: at(time), points: scale });
  const stop = (time: string, reason: string | string[]): Written => ({
    kind: "stop",
    at: at(time),
    for: reason,
  });
  /** Both platforms, moved by a share of the picture's width. */
  const platforms = (time: string, moved: number): Written => ({
    kind: "platforms",
    at: at(time),
    left: [
      [0.45 + moved, 0.8],
      [0.35 + moved, 0.8],
    ],
    right: [
      [0.55 + moved, 0.8],
      [0.65 + moved, 0.8],
    ],
  });
  const fought = (start: string, halt: string, doer: string) =>
    phrase(start, halt, { actions: [`${doer} attack`], award: "none" });
  const steps = (log: readonly Written[]) =>
    stepsOf(ledgerOf({}, log)).steps.map(({ from, to, phrases, openers }) => ({
      from,
      to,
      phrases,
      ...openers,
    }));

  test("a step has the phrases between its two entries, by who opened them", () =>
    expect(
      steps([
        fit("0:01"),
        fought("0:02", "0:03", "left"),
        platforms("0:05", 0),
        fought("0:10", "0:12", "left"),
        fought("0:20", "0:22", "both"),
        fought("0:30", "0:32", "right"),
        platforms("0:35", 0.01),
        platforms("0:36", 0.01),
      ]),
    ).toEqual([
      { from: 2, to: 6, phrases: 3, left: 1, right: 1, other: 1 },
      { from: 6, to: 7, phrases: 0, left: 0, right: 0, other: 0 },
    ]));

  test.each([
    ["a re-centre", stop("0:10", "re-centre"), 0],
    ["a stop for distance among other reasons", stop("0:10", ["equipment", "distance"]), 0],
    ["a new fit", fit("0:10"), 0],
    ["a stop for something else doesn't", stop("0:10", "equipment"), 1],
    [
      "platforms of one side only don't",
      {
        kind: "platforms",
        at: at("0:10"),
        left: [
          [0.4, 0.8],
          [0.3, 0.8],
        ],
      },
      1,
    ],
  ])("%s ends the step", (_, between, count) =>
    expect(steps([fit("0:01"), platforms("0:05", 0), between, platforms("0:15", 0.01)])).toHaveLength(count),
  );

  test("there is no step before the picture is tied to the floor", () =>
    expect(steps([platforms("0:05", 0), platforms("0:15", 0.01)])).toEqual([]));

  test("a hundredth of the picture's width is 50 mm; two points tell nothing across", () => {
    const { drift } = sheetFor({}, [
      fit("0:01"),
      platforms("0:05", 0),
      fought("0:10", "0:12", "left"),
      platforms("0:15", 0.01),
    ]).sheet;
    expect(drift?.steps).toHaveLength(1);
    expect(drift?.steps[0]).toMatchObject({
      from: 1,
      to: 3,
      phrases: 1,
      across: null,
      turn: null,
      gap: null,
    });
    expect(drift?.steps[0]?.along).toBeCloseTo(0.05, 10);
    expect(drift).toMatchObject({
      towards: null,
      alongPerPhrase: null,
      signTest: { right: 1, left: 0, p: 1 },
    });
    expect(drift?.note).toBeDefined();
  });

  test("the gap is compared since the last stop for distance", () => {
    const log = [
      fit("0:01"),
      platforms("0:05", 0),
      platforms("0:15", 0.01),
      stop("0:20", "re-centre"),
      platforms("0:25", 0),
      stop("0:30", "distance"),
      platforms("0:35", 0),
    ];
    expect(stepsOf(ledgerOf({}, log.slice(0, 5))).lastStretch).toHaveLength(3);
    expect(stepsOf(ledgerOf({}, log)).lastStretch).toHaveLength(1);
  });
});
