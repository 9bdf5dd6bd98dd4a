import { describe, expect, test } from "vitest";
import type { Row } from "../../src/rules";
import { at, ledgerOf, phrase, type Written } from "./bouts";

const scores = (rows: readonly Row[]) => rows.map(({ state }) => state.score);
const phraseFacts = (rows: readonly Row[]) =>
  rows.flatMap((row) => (row.kind === "phrase" ? [row.phrase] : []));
const review = (time: string, fields: Written): Written => ({ kind: "review", at: at(time), ...fields });
const card = (time: string, to: string, colour: string): Written => ({
  kind: "card",
  at: at(time),
  to,
  card: colour,
});

describe("touches of a phrase", () => {
  test("an award is a touch for the fencer it names; none and not yet called are none", () => {
    const { rows } = ledgerOf({}, [
      phrase("0:10", "0:12", { award: "left" }),
      phrase("0:20", "0:22", { award: "right" }),
      phrase("0:30", "0:32", { award: "none", because: "simultaneous" }),
      phrase("0:40", "0:42"),
      phrase("0:50", "0:52", { award: "right" }),
    ]);
    expect(scores(rows)).toEqual([
      [1, 0],
      [1, 1],
      [1, 1],
      [1, 1],
      [1, 2],
    ]);
    expect(phraseFacts(rows).map(({ number, stands }) => [number, stands])).toEqual([
      [1, "left"],
      [2, "right"],
      [3, "none"],
      [4, null],
      [5, "right"],
    ]);
  });

  test("at épée a double gives a touch each (FIE t.92)", () =>
    expect(ledgerOf({ weapon: "epee" }, [phrase("0:10", "0:12", { award: "both" })]).end.score).toEqual([
      1, 1,
    ]));

  test.each([
    ["left", "left", [0, 0], "none"],
    ["left", "right", [1, 0], "left"],
    ["both", "left", [0, 1], "right"],
    ["both", "right", [1, 0], "left"],
    ["both", "both", [0, 0], "none"],
  ])("award %s, annulled %s", (award, annulled, score, stands) => {
    const { end, rows } = ledgerOf({ weapon: "epee" }, [
      phrase("0:10", "0:12", { award, annulled, for: "card" }),
    ]);
    expect(end.score).toEqual(score);
    expect(phraseFacts(rows)[0]?.stands).toBe(stands);
  });

  test("the scoring action is the side's last that can score, the one named outright, or untagged", () => {
    const { rows } = ledgerOf({ weapon: "epee" }, [
      phrase("0:10", "0:12", {
        award: "right",
        actions: ["left attack", "right parry", "right riposte", "left parry"],
      }),
      phrase("0:20", "0:22", { award: "left", actions: ["left attack", "left remise"], scored: "attack" }),
      phrase("0:30", "0:32", { award: "both", actions: ["both attack", "right counter-attack"] }),
      phrase("0:40", "0:42", { award: "left", actions: ["left feint", "right attack"] }),
      phrase("0:50", "0:52", { award: "none", actions: ["left attack"] }),
    ]);
    expect(phraseFacts(rows).map(({ scoring }) => scoring)).toEqual([
      { left: null, right: "riposte" },
      { left: "attack", right: null },
      { left: "attack", right: "counter-attack" },
      { left: "untagged", right: null },
      { left: null, right: null },
    ]);
  });

  test("a phrase is opened by the side of its first action that can score", () => {
    const opened = (actions: string[]) =>
      phraseFacts(ledgerOf({}, [phrase("0:10", "0:12", { actions })]).rows)[0]?.opener;
    expect(opened(["right feint", "left preparation", "left attack", "right riposte"])).toBe("left");
    expect(opened(["both attack"])).toBe("both");
    expect(opened(["right point in line"])).toBe("right");
    expect(opened(["left parry", "right beat"])).toBeNull();
    expect(opened([])).toBeNull();
  });
});

describe("reviews", () => {
  test("a changed call moves the touch, at the review and not before it", () => {
    const { rows, touches } = ledgerOf({}, [
      phrase("0:10", "0:12", { award: "left", actions: ["left attack", "right riposte"] }),
      card("0:13", "left", "yellow"),
      review("0:20", { by: "right", result: "changed", award: "right" }),
      phrase("0:30", "0:32", { award: "right" }),
    ]);
    expect(scores(rows)).toEqual([
      [1, 0],
      [1, 0],
      [0, 1],
      [0, 2],
    ]);
    expect(phraseFacts(rows)[0]).toMatchObject({
      stands: "right",
      scoring: { left: null, right: "riposte" },
      reviews: [2],
    });
    expect(rows[2]).toMatchObject({ kind: "review", of: 0, stood: "left", stands: "right" });
    expect(touches.right.phrases).toBe(2);
  });

  test.each([
    ["pending, then decided for left", { award: "pending" }, { result: "decided", award: "left" }, [1, 0]],
    ["pending, then decided: none", { award: "pending" }, { result: "decided", award: "none" }, [0, 0]],
    ["changed to none", { award: "left" }, { result: "changed", award: "none" }, [0, 0]],
    ["changed, but still the same touch", { award: "left" }, { result: "changed", award: "left" }, [1, 0]],
    ["kept", { award: "left" }, { result: "kept" }, [1, 0]],
    ["kept, with the award told again", { award: "left" }, { result: "kept", award: "left" }, [1, 0]],
    ["no picture leaves the award", { award: "left" }, { result: "no picture" }, [1, 0]],
    ["no picture of a pending call", { award: "pending" }, { result: "no picture" }, [0, 0]],
    [
      "no picture of a pending call, then given",
      { award: "pending" },
      { result: "no picture", award: "left" },
      [1, 0],
    ],
    [
      "annulled, then given back by the review",
      { award: "left", annulled: "left", for: "after halt" },
      { result: "changed", award: "left" },
      [1, 0],
    ],
    [
      "annulled and kept",
      { award: "left", annulled: "left", for: "before play" },
      { result: "kept" },
      [0, 0],
    ],
    [
      "given to left by the review, then annulled",
      { award: "right", annulled: "left", for: "card" },
      { result: "changed", award: "left" },
      [0, 0],
    ],
  ])("%s", (_, fields, result, score) => {
    const log = [phrase("0:10", "0:12", fields), review("0:20", { by: "referee", ...result })];
    expect(ledgerOf({}, log).end.score).toEqual(score);
  });

  test("a review after a review starts from what the first one left", () => {
    const log = [
      phrase("0:10", "0:12", { award: "left" }),
      review("0:20", { by: "right", result: "changed", award: "right" }),
      review("0:25", { by: "referee", result: "changed", award: "none" }),
    ];
    expect(scores(ledgerOf({}, log).rows)).toEqual([
      [1, 0],
      [0, 1],
      [0, 0],
    ]);
  });

  test("a review without a phrase before it changes nothing", () => {
    const { end, rows } = ledgerOf({}, [review("0:20", { by: "referee", result: "changed", award: "left" })]);
    expect(end.score).toEqual([0, 0]);
    expect(rows[0]).toMatchObject({ of: null });
  });
});

describe("appeals (FIE t.61, t.62)", () => {
  const left = (format: "pool" | "elimination" | "veterans", result: string, by = "left") =>
    ledgerOf({ format, video: true }, [
      phrase("0:10", "0:12", { award: "right" }),
      review("0:20", { by, result, award: "right" }),
    ]).end.appeals;

  test("a fencer has one in a pool bout and two in direct elimination (t.61.1)", () => {
    expect(left("pool", "changed")).toEqual({ left: 1, right: 1 });
    expect(left("elimination", "changed")).toEqual({ left: 2, right: 2 });
    expect(left("veterans", "changed")).toEqual({ left: 2, right: 2 });
  });
  test("a kept call spends it, a changed one and a missing picture don't (t.61)", () => {
    expect(left("elimination", "kept")).toEqual({ left: 1, right: 2 });
    expect(left("pool", "kept", "right")).toEqual({ left: 1, right: 0 });
    expect(left("elimination", "no picture")).toEqual({ left: 2, right: 2 });
    expect(left("elimination", "decided")).toEqual({ left: 2, right: 2 });
  });
  test.each(["referee", "video-referee", "level score"])("a look by %s costs nobody one (t.62)", (by) =>
    expect(left("elimination", "kept", by)).toEqual({ left: 2, right: 2 }),
  );
  test("there are never fewer than none, and no number without video refereeing", () => {
    const twice = [
      phrase("0:10", "0:12", { award: "right" }),
      review("0:20", { by: "left", result: "kept" }),
      review("0:21", { by: "left", result: "kept" }),
    ];
    expect(ledgerOf({ format: "pool" }, twice).end.appeals).toEqual({ left: 0, right: 1 });
    expect(ledgerOf({ format: "pool", video: false }, twice).end.appeals).toBeNull();
  });
});

describe("cards", () => {
  test("a red adds a touch to the opponent, yellow and black none (FIE t.162)", () => {
    const { rows, touches } = ledgerOf({}, [
      card("0:10", "left", "yellow"),
      card("0:20", "left", "red"),
      card("0:30", "right", "red"),
      card("0:40", "left", "red"),
      card("0:50", "both", "yellow"),
      card("1:00", "both", "red"),
      card("1:10", "right", "black"),
    ]);
    expect(scores(rows)).toEqual([
      [0, 0],
      [0, 1],
      [1, 1],
      [1, 2],
      [1, 2],
      [2, 3],
      [2, 3],
    ]);
    expect(touches.left).toEqual({ phrases: 0, penalties: 2, unseen: 0, corrected: 0 });
    expect(touches.right).toEqual({ phrases: 0, penalties: 3, unseen: 0, corrected: 0 });
  });

  test("a P-red gives one each way, a P-yellow nothing (FIE t.124)", () => {
    const { end, touches } = ledgerOf({}, [card("1:10", "both", "P-yellow"), card("2:10", "both", "P-red")]);
    expect(end.score).toEqual([1, 1]);
    expect(touches.left.penalties).toBe(1);
    expect(end.cards).toEqual({ left: ["P-yellow", "P-red"], right: ["P-yellow", "P-red"] });
  });

  test("the cards held stand in the row of each entry", () => {
    const { rows } = ledgerOf({}, [card("0:10", "left", "yellow"), card("0:20", "both", "red")]);
    expect(rows[0]?.before.cards).toEqual({ left: [], right: [] });
    expect(rows[0]?.state.cards).toEqual({ left: ["yellow"], right: [] });
    expect(rows[1]?.state.cards).toEqual({ left: ["yellow", "red"], right: ["red"] });
  });
});

describe("corrections, openings and gaps", () => {
  test("a correction replaces the running score, and nothing is recalculated backwards", () => {
    const { rows, touches } = ledgerOf({}, [
      phrase("0:10", "0:12", { award: "left" }),
      phrase("0:20", "0:22", { award: "left" }),
      { kind: "correction", at: at("0:30"), score: [1, 1], for: "wrong side on the board" },
      phrase("0:40", "0:42", { award: "right" }),
    ]);
    expect(scores(rows)).toEqual([
      [1, 0],
      [2, 0],
      [1, 1],
      [1, 2],
    ]);
    expect(touches.left).toEqual({ phrases: 2, penalties: 0, unseen: 0, corrected: -1 });
    expect(touches.right).toEqual({ phrases: 1, penalties: 0, unseen: 0, corrected: 1 });
  });

  test("an opening gives the score, cards, appeals and period of a bout under way", () => {
    const { end, touches } = ledgerOf({}, [
      {
        kind: "opening",
        at: at("0:00"),
        score: [4, 6],
        cards: { right: ["yellow"] },
        appeals: [1, 2],
        period: 2,
      },
      phrase("0:10", "0:12", { award: "left" }),
    ]);
    expect(end).toMatchObject({
      score: [5, 6],
      cards: { left: [], right: ["yellow"] },
      appeals: { left: 1, right: 2 },
      period: 2,
    });
    expect(touches.left).toMatchObject({ phrases: 1, unseen: 4 });
    expect(touches.right).toMatchObject({ phrases: 0, unseen: 6 });
  });

  test("touches of a gap are its score less the score before it; what it does not name stays", () => {
    const { end, touches } = ledgerOf({}, [
      phrase("0:10", "0:12", { award: "left" }),
      card("0:14", "left", "yellow"),
      { kind: "gap", at: at("0:20"), until: at("3:00"), score: [3, 2], cards: { right: ["yellow", "red"] } },
      phrase("3:10", "3:12", { award: "right" }),
    ]);
    expect(end.score).toEqual([3, 3]);
    expect(end.cards).toEqual({ left: ["yellow"], right: ["yellow", "red"] });
    expect(end.period).toBe(1);
    expect(touches.left).toEqual({ phrases: 1, penalties: 0, unseen: 2, corrected: 0 });
    expect(touches.right).toEqual({ phrases: 1, penalties: 0, unseen: 2, corrected: 0 });
  });

  test("without video refereeing an opening's appeals say nothing", () =>
    expect(
      ledgerOf({ video: false }, [{ kind: "opening", at: at("0:00"), score: [0, 0], appeals: [1, 1] }]).end
        .appeals,
    ).toBeNull());
});

describe("fencing time (FIE t.37.1: only between play and halt)", () => {
  test("adds up start to halt, anew in each period; an early start and an open phrase take none", () => {
    const { rows } = ledgerOf({}, [
      phrase("0:10", "0:12.5", { award: "left" }),
      phrase("0:20", "0:21", { award: "none", because: "early start", play: false }),
      { kind: "period", at: at("0:30"), number: 2 },
      phrase("0:40", "0:43.04", { award: "none" }),
      { kind: "phrase", start: at("0:50") },
    ]);
    expect(rows.map(({ state }) => [state.period, state.fencing, state.fencingInPeriod])).toEqual([
      [1, 2500, 2500],
      [1, 2500, 2500],
      [2, 2500, 0],
      [2, 5540, 3040],
      [2, 5540, 3040],
    ]);
    expect(phraseFacts(rows).map(({ closed, fencing }) => [closed, fencing])).toEqual([
      [true, 2500],
      [true, 0],
      [true, 3040],
      [false, 0],
    ]);
  });

  test("a gap within the period keeps the time that was seen of it; into another one starts anew", () => {
    const gap = (period: unknown) =>
      ledgerOf({}, [
        phrase("0:10", "0:12", { award: "left" }),
        { kind: "gap", at: at("0:30"), score: [1, 0], period },
      ]).end.fencingInPeriod;
    expect(gap(1)).toBe(2000);
    expect(gap(2)).toBe(0);
  });
});

describe("the end", () => {
  const end = (time: string, fields: Written): Written => ({ kind: "end", at: at(time), ...fields });

  test("what comes after it is shown and not counted", () => {
    const {
      rows,
      end: state,
      touches,
    } = ledgerOf({}, [
      phrase("0:10", "0:12", { award: "left" }),
      end("0:30", { by: "time" }),
      phrase("0:40", "0:42", { award: "right" }),
      card("0:50", "left", "red"),
    ]);
    expect(state.score).toEqual([1, 0]);
    expect(state.fencing).toBe(2000);
    expect(phraseFacts(rows).map(({ counts }) => counts)).toEqual([true, false]);
    expect(touches.right.phrases).toBe(0);
  });

  const wins = (n: number, side: string) =>
    Array.from({ length: n }, (_, index) => phrase(`${index}:10`, `${index}:12`, { award: side }));

  test.each([
    ["5 touches win a pool bout without an end entry (t.38)", { format: "pool" }, wins(5, "right"), "right"],
    ["4 don't", { format: "pool" }, wins(4, "right"), null],
    [
      "the end entry's own word comes first",
      {},
      [...wins(2, "left"), end("9:00", { by: "withdrawal", winner: "right" })],
      "right",
    ],
    [
      "at time the higher score wins (t.38.2.a)",
      {},
      [...wins(2, "left"), end("9:00", { by: "time" })],
      "left",
    ],
    ["a level score at time leaves it open", {}, [end("9:00", { by: "time" })], null],
    [
      "priority wins a level bout (t.38.2.b)",
      {},
      [{ kind: "draw", at: at("8:00"), to: "right" }, end("9:00", { by: "priority" })],
      "right",
    ],
    [
      "lots not recorded leave it open",
      {},
      [{ kind: "draw", at: at("8:00") }, end("9:00", { by: "priority" })],
      null,
    ],
    [
      "exclusion: the one with the black card loses (t.162)",
      {},
      [...wins(3, "left"), card("8:00", "left", "black"), end("9:00", { by: "exclusion" })],
      "right",
    ],
    [
      "exclusion of both leaves no winner",
      {},
      [card("8:00", "both", "black"), end("9:00", { by: "exclusion" })],
      null,
    ],
    [
      "P-black: the lower score loses (t.124)",
      {},
      [...wins(3, "left"), card("8:00", "both", "P-black"), end("9:00", { by: "P-black" })],
      "left",
    ],
    [
      "withdrawal alone does not say who won",
      {},
      [...wins(3, "left"), end("9:00", { by: "withdrawal" })],
      null,
    ],
    ["a training bout has no number of touches to win", { format: "training" }, wins(9, "left"), null],
  ] as const)("%s", (_, about, log, winner) => expect(ledgerOf(about, log).winner).toBe(winner));

  test("P-black at a level score: the lower seed loses (t.124)", () => {
    const log = [card("8:00", "both", "P-black"), end("9:00", { by: "P-black" })];
    const fencers = (left: unknown, right: unknown) => ({
      left: { name: "Tarn", seed: left },
      right: { name: "Odrey", seed: right },
    });
    expect(ledgerOf({}, log, fencers(6, 3)).winner).toBe("right");
    expect(ledgerOf({}, log, fencers(2, 3)).winner).toBe("left");
    expect(ledgerOf({}, log, fencers(2, undefined)).winner).toBeNull();
  });
});

test("the pose of each row names the fit of the shot on screen and where each platform was last seen", () => {
  const points = [
    { image: [0.1, 0.8], floor: [-2, 0] },
    { image: [0.9, 0.8], floor: [2, 0] },
  ];
  const corners = [
    [0.4, 0.8],
    [0.3, 0.8],
  ];
  const { rows } = ledgerOf({}, [
    { kind: "fit", at: at("0:01"), points },
    { kind: "platforms", at: at("0:02"), left: corners, right: corners },
    { kind: "shot", at: at("0:03"), name: "close" },
    { kind: "fit", at: at("0:04"), points },
    { kind: "platforms", at: at("0:05"), right: corners },
    { kind: "shot", at: at("0:06"), name: "main" },
  ]);
  expect(
    rows.map(({ state: { pose } }) => [pose.shot, pose.fit, pose.platforms.left, pose.platforms.right]),
  ).toEqual([
    ["main", 0, null, null],
    ["main", 0, 1, 1],
    ["close", null, 1, 1],
    ["close", 3, 1, 1],
    ["close", 3, 1, 4],
    ["main", 0, 1, 4],
  ]);
});
