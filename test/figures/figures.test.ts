import { describe, expect, test } from "vitest";
import { figuresOf, outcomeDefinitions, outcomes, type Figures } from "../../src/figures";
import { at, ledgerOf, phrase, type About, type Written } from "../rules/bouts";

const figuresFor = (about: About, log: readonly Written[], fencers?: unknown): Figures =>
  figuresOf(ledgerOf(about, log, fencers));
const both = { left: "valid", right: "valid" };

/** One phrase of each kind of end, all opened by left: which outcome left has. */
const ends: readonly (readonly [outcome: string, fields: Written])[] = [
  ["for", { award: "left" }],
  ["against", { award: "right" }],
  ["each", { award: "both" }],
  ["not called", { award: "pending" }],
  ["halted", { award: "left", annulled: "left", for: "card" }],
  ["halted", { award: "none", because: "balance", lamps: both }],
  ["both lamps", { award: "none", lamps: both }],
  ["both lamps", { award: "none", because: "simultaneous", lamps: undefined }],
  ["off target", { award: "none", lamps: { left: "off-target", right: "valid" } }],
  ["off target", { award: "none", because: "off-target" }],
  ["not given", { award: "none", lamps: { right: "valid" } }],
  ["parried", { award: "none", actions: ["left attack", "right counter-parry"] }],
  ["missed", { award: "none" }],
  ["missed", { award: "none", lamps: { left: "fault" } }],
  ["missed", { award: "none", because: "no lamp", lamps: undefined }],
  ["not told", { award: "none", lamps: undefined }],
  ["not told", { award: "none", because: "unseen" }],
];
const eachEnd = ends.map(([, fields], index) =>
  phrase(`0:${10 + 2 * index}`, `0:${11 + 2 * index}`, { actions: ["left attack"], ...fields }),
);

describe("who committed first", () => {
  test.each(ends.map(([outcome, fields], index) => [outcome, JSON.stringify(fields), index] as const))(
    "%s: %s",
    (outcome, _, index) => {
      const { own } = figuresFor({ weapon: "epee" }, eachEnd).opened.left;
      const found = outcomes.filter((one) => own.outcomes[one].entries.includes(index));
      expect(found).toEqual([outcome]);
    },
  );

  test("every outcome has its definition, and the first that fits comes first", () =>
    expect(outcomeDefinitions.map(({ outcome }) => outcome).toSorted()).toEqual([...outcomes].sort()));

  test("the other side sees the same phrases turned round", () => {
    const { left, right } = figuresFor({ weapon: "epee" }, eachEnd).opened;
    expect(right.opponent.phrases).toEqual(left.own.phrases);
    expect(right.opponent.outcomes.for.entries).toEqual(left.own.outcomes.against.entries);
    expect(right.opponent.net.value).toBeCloseTo(-(left.own.net.value ?? NaN), 12);
  });

  test("phrases without actions are not tagged, never zero", () => {
    const { opened, conversion } = figuresFor({}, [
      phrase("0:10", "0:11", { award: "left" }),
      phrase("0:20", "0:21", { actions: ["right parry"], award: "none" }),
    ]);
    expect(opened.left.untagged.phrases).toEqual([0]);
    expect(opened.left.nobody.phrases).toEqual([1]);
    expect(opened.left.own.net).toEqual({ of: 0, for: 0, against: 0, value: null, low: null, high: null });
    expect(conversion).toMatchObject({ told: { count: 1, of: 2 }, sides: null });
  });

  test("ten phrases of foil: 4 for, 2 against are a net of 2 in 10, from -2.3 to 5.7", () => {
    const log = Array.from({ length: 10 }, (_, index) =>
      phrase(`0:${10 + 2 * index}`, `0:${11 + 2 * index}`, {
        actions: ["left attack"],
        award: index < 4 ? "left" : index < 6 ? "right" : "none",
      }),
    );
    const { net } = figuresFor({}, log).opened.left.own;
    // Newcombe's paired method 10, worked by hand: Wilson 4/10 0.1682-0.6873, 2/10 0.0567-0.5098, phi -8/sqrt(24*16).
    const phi = -8 / Math.sqrt(4 * 6 * 2 * 8);
    const [above, below] = [0.6873262 - 0.4, 0.2 - 0.0566822];
    const [under, over] = [0.4 - 0.1681803, 0.5098375 - 0.2];
    expect(net.value).toBeCloseTo(2, 12);
    expect(net.high).toBeCloseTo(2 + 10 * Math.sqrt(above ** 2 - 2 * phi * above * below + below ** 2), 5);
    expect(net.low).toBeCloseTo(2 - 10 * Math.sqrt(under ** 2 - 2 * phi * under * over + over ** 2), 5);
  });
});

describe("a bout counted by hand", () => {
  const worked: readonly Written[] = [
    phrase("0:10", "0:14", { actions: ["left attack"], award: "left", target: "chest", tags: ["late"] }), // 1:0
    phrase("0:20", "0:22", { actions: ["right attack", "left parry", "left riposte"], award: "left" }), // 2:0
    phrase("0:30", "0:31", { actions: ["left attack", "right attack"], award: "left", lamps: both }), // 3:0
    { kind: "review", at: at("0:33"), by: "right", result: "changed", award: "right" }, // 2:1
    phrase("0:50", "0:54", { actions: ["left attack"], award: "right", lamps: both }), // 2:2
    { kind: "card", at: at("0:56"), to: "left", card: "red", for: "hair" }, // 2:3
    { kind: "stop", at: at("1:00"), until: at("1:12"), for: ["equipment", "medical"], by: "left" },
    phrase("1:20", "1:21", { actions: ["both attack"], award: "left", target: "chest" }), // 3:3
    { kind: "review", at: at("1:22"), by: "right", result: "no picture" },
    phrase("1:30", "1:36", { actions: ["right attack"], award: "none", lamps: both }), // 3:3
    phrase("1:40", "1:42", { actions: ["right attack"], award: "left", lamps: { left: "valid" } }), // 4:3
  ];
  const figures = figuresFor({ format: "elimination" }, worked);

  test("answers: first action against second", () => {
    const cells = figures.answers.cells.map(({ first, second, phrases, counts, touches }) => [
      `${first.doer} ${first.group}`,
      second === null ? "" : `${second.doer} ${second.group}`,
      phrases,
      [counts.left.length, counts.right.length],
      touches.left,
    ]);
    expect(cells).toEqual([
      ["left attack", "", [0, 4], [1, 1], null],
      ["right attack", "left parry", [1], [1, 0], null],
      ["left attack", "right attack", [2], [0, 1], null],
      ["both attack", "", [7], [1, 0], null],
      ["right attack", "", [9, 10], [1, 0], null],
    ]);
  });

  test("targets and tags under their own words", () => {
    expect(figures.targets.left.given).toMatchObject({ count: 2, of: 4, entries: [0, 7] });
    expect(figures.targets.left.rows).toMatchObject([
      { target: "chest", share: { count: 2, of: 2 }, byFamily: { attack: [0, 7] } },
    ]);
    expect(figures.tags.rows).toMatchObject([{ tag: "late", definition: null, phrases: [0] }]);
  });

  test("both lamps, by opener", () => {
    const { share, rows, toOpener, toEitherOpener, doubles } = figures.bothLamps;
    expect(share).toMatchObject({ count: 3, of: 7 });
    expect(rows.map(({ opener, right, nothing }) => [opener, right.count, nothing.count])).toEqual([
      ["left", 2, 0],
      ["right", 0, 1],
    ]);
    expect(toOpener.left).toMatchObject({ count: 0, of: 2 });
    expect(toEitherOpener).toMatchObject({ count: 0, of: 2 });
    expect(doubles).toBeNull();
  });

  test("reviews: what was asked, how it stood, how long it took, what it moved", () => {
    const { sides, lines, byLamps, byAction, appealsLeft } = figures.reviews;
    expect(sides.right).toMatchObject({ asked: [3, 8], granted: [3], noPicture: [8], swung: 2 });
    expect(sides.right.success).toMatchObject({ count: 1, of: 1 });
    expect(sides.right.bySituation.behind).toMatchObject({ count: 1, of: 1 });
    expect(lines[0]).toMatchObject({
      of: 2,
      situation: "behind",
      seconds: 17,
      swung: 2,
      lamps: "both lamps",
      contested: "attack",
    });
    expect(lines[1]).toMatchObject({ situation: "level", seconds: 8, swung: 0, lamps: "one lamp" });
    expect(byLamps.map(({ what, asked }) => [what, asked])).toEqual([
      ["both lamps", [3]],
      ["one lamp", [8]],
    ]);
    expect(byAction[0]).toMatchObject({ what: "attack", changed: { count: 1, of: 1 } });
    expect(appealsLeft).toEqual([{ entry: null, left: { left: 2, right: 2 } }]);
    // The phrase at 0:50 went to right with both lamps and nobody asked.
    expect(sides.left).toMatchObject({ notAppealed: [4], notAppealedWithAppeal: [4] });
  });

  test("flow: lead, order, tempo, cards and stops", () => {
    const { line, leadChanges, largestLead, order, tempo, cards, stopsBy, stopsFor } = figures.flow;
    expect(line.map(({ score }) => score.join(":"))).toEqual([
      "1:0",
      "2:0",
      "3:0",
      "2:1",
      "2:2",
      "2:3",
      "3:3",
      "4:3",
    ]);
    expect(leadChanges).toEqual([5, 10]);
    expect(largestLead).toMatchObject({ left: { by: 3, entry: 2 }, right: { by: 1, entry: 5 } });
    // Touches in order: left, left, right, right, left, left.
    expect(order?.orders).toBe("all");
    expect(order?.runs).toMatchObject({ count: 3, entries: [0, 2, 7] });
    expect(order?.runs.expected).toBeCloseTo(1 + (2 * 4 * 2) / 6, 12);
    expect(order?.afterHit.left).toMatchObject({ count: 1, entries: [7] });
    expect(order?.afterScoring.left).toMatchObject({ count: 2, entries: [1, 10] });
    expect(order?.afterScoring.right).toMatchObject({ count: 1, entries: [4] });
    expect(tempo.phrases).toMatchObject({ count: 7, median: 2, least: 1, most: 6 });
    expect(tempo.pauses).toMatchObject({ count: 6, least: 4, most: 26 });
    expect(tempo.plainPauses).toMatchObject({ count: 3, median: 6, entries: [1, 2, 10] });
    expect(cards).toMatchObject([{ to: "left", card: "red", cost: { left: 0, right: 1 }, score: [2, 3] }]);
    expect(stopsBy).toEqual([{ what: "left", stops: [6], seconds: 12, timed: 1 }]);
    expect(stopsFor.map(({ what }) => what)).toEqual(["equipment", "medical"]);
  });

  test("comparisons: all that were tried are listed, counted and adjusted together", () => {
    const { tried, list } = figures.comparisons;
    expect(tried).toBe(list.length);
    expect(new Set(list.map(({ key }) => key)).size).toBe(tried);
    for (const { p, adjusted, passes, words } of list) {
      expect(adjusted).toBeGreaterThanOrEqual(p);
      expect(passes).toBe(adjusted < 0.05);
      expect(words).toContain("could show");
    }
    expect(list.find(({ key }) => key === "touches")?.words).toBe("no difference that 7 phrases could show");
  });

  test("five lines to read aloud", () =>
    expect(figures.summary.map(({ text }) => text)).toEqual([
      "Tarn and Odrey: 4 to 3 so far, in 7 phrases and 0:20 of fencing; all of them tagged with actions.",
      "The lead passed over 2 times; the largest lead was 3 touches for Tarn, at 3 to 0 (left first).",
      `Nothing that was compared differs by more than chance would make it in 7 phrases (${figures.comparisons.tried} comparisons tried).`,
      "The order of the 6 touches, in 3 runs, shows no pattern beyond chance.",
      "Odrey asked for 2 reviews and was granted 1.",
    ]));
});

test("a difference that passes is told: 20 of 20 against 0 of 20 when opening", () => {
  const log = Array.from({ length: 40 }, (_, index) =>
    phrase(
      `${Math.floor(index / 6) + 1}:${10 + (index % 6) * 5}`,
      `${Math.floor(index / 6) + 1}:${12 + (index % 6) * 5}`,
      {
        actions: [index % 2 === 0 ? "left attack" : "right attack"],
        award: "left",
      },
    ),
  );
  const { comparisons, summary } = figuresFor({ format: "training" }, log);
  const passed = comparisons.list.filter(({ passes }) => passes).map(({ key }) => key);
  expect(passed).toEqual(expect.arrayContaining(["opened.for", "opened.against", "touches"]));
  expect(comparisons.list.find(({ key }) => key === "opened.for")?.words).toBe("Tarn more often than Odrey");
  expect(summary.some(({ text }) => text.includes("more often than"))).toBe(true);
});

test("touches on both sides of a part not recorded are no neighbours", () => {
  const touch = (second: number, side: string) => phrase(`0:${second}`, `0:${second + 1}`, { award: side });
  const gap: Written = { kind: "gap", at: at("0:30"), until: at("0:40"), score: [3, 3] };
  const { order, tempo } = figuresFor({}, [
    touch(10, "left"),
    touch(20, "left"),
    gap,
    touch(41, "left"),
    touch(50, "right"),
  ]).flow;
  expect(order?.orders).toBe("drawn");
  expect(order?.longest.left.count).toBe(2);
  expect(order?.afterScoring.left.count).toBe(1);
  expect(tempo.pauses.count).toBe(2);
});

describe("bouts with next to nothing in them", () => {
  const one = phrase("0:10", "0:12", { actions: ["left attack"], award: "left" });
  const many = (fields: Written) =>
    Array.from({ length: 4 }, (_, index) => phrase(`0:${10 + 5 * index}`, `0:${12 + 5 * index}`, fields));
  test.each<[string, About, readonly Written[]]>([
    ["no phrases", {}, []],
    ["one phrase", {}, [one]],
    ["a phrase still open", {}, [{ kind: "phrase", start: at("0:10") }]],
    ["all doubles", { weapon: "epee" }, many({ actions: ["both attack"], award: "both" })],
    ["no touches", {}, many({ actions: ["left attack"], award: "none" })],
    ["no lamps", {}, many({ actions: ["left attack"], award: "left", lamps: undefined })],
    ["no actions", {}, many({ award: "left" })],
    [
      "phrases of no length",
      {},
      [phrase("0:10", "0:10", { award: "left" }), phrase("0:11", "0:11", { award: "right" })],
    ],
  ])("%s: every section is there, and nothing is a number that is none", (_, about, log) => {
    const figures = figuresFor(about, log);
    const text = JSON.stringify(figures);
    expect(Object.keys(JSON.parse(text) as object)).toContain("summary");
    const check = (value: unknown): void => {
      if (typeof value === "number") expect(Number.isFinite(value)).toBe(true);
      else if (typeof value === "object" && value !== null) Object.values(value).forEach(check);
    };
    check(figures);
    expect(figures.summary.length).toBeGreaterThan(0);
  });

  test("names with markup or formulas are left as they are", () => {
    const { summary } = figuresFor({}, [one], { left: { name: "<b>Tarn</b>" }, right: { name: "=1+1" } });
    expect(summary[0]?.text).toContain("<b>Tarn</b> and =1+1");
  });
});
