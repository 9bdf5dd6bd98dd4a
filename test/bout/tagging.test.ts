import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { editBout } from "../../src/bout/edit";
import { readBout } from "../../src/bout/read";
import { actionKeys, mirrored, tag, type Circumstances, type Tagging } from "../../src/bout/tagging";
import { formatTime, parseTime, type Milliseconds } from "../../src/bout/time";
import { anyBout, boutText } from "./texts";

const now: Circumstances = {
  score: [3, 4],
  period: 1,
  nextCard: () => "yellow",
  cards: ["yellow", "red", "black"],
};

/** A bout and a playhead, tagged key by key. */
class Bench {
  text: string;
  at = 0 as Milliseconds;
  said = "";
  wrote = "";
  constructor(entries: Parameters<typeof boutText>[0] = [], weapon = "foil") {
    this.text = boutText(entries).replace('"foil"', `"${weapon}"`);
  }
  to(time: string): this {
    this.at = parseTime(time) ?? this.at;
    return this;
  }
  press(tagging: Tagging): this {
    const reading = readBout(this.text);
    if (reading.bout === undefined) throw new Error("unreadable");
    const result = tag(reading.bout, tagging, this.at, now);
    this.said = result.ok ? "" : result.problem;
    this.wrote = result.ok ? (result.value.write?.field ?? "") : "";
    if (!result.ok || result.value.change === undefined) return this;
    const edited = editBout(reading.scan, result.value.change);
    if (!edited.ok) throw new Error(edited.problem.message);
    this.text = edited.value.text;
    return this;
  }
  get log(): unknown[] {
    return [...readBout(this.text).scan.entries];
  }
}

const act = (doer: "left" | "right" | "both", key: keyof typeof actionKeys): Tagging => ({
  do: "action",
  doer,
  key,
});

test("a phrase needs start, one key an action, halt, lamp and award", () => {
  const bench = new Bench().to("0:00:41.200").press({ do: "fence" }).to("0:00:44.960");
  bench.press(act("left", "attack")).press(act("right", "parry")).press(act("right", "riposte"));
  bench
    .press({ do: "halt" })
    .press({ do: "lamp", doer: "right", lamp: "valid" })
    .press({ do: "award", award: "right" });
  expect(bench.log).toEqual([
    {
      kind: "phrase",
      start: "0:00:41.200",
      halt: "0:00:44.960",
      actions: ["left attack", "right parry", "right riposte"],
      lamps: { right: "valid" },
      award: "right",
    },
  ]);
  expect(Object.keys(bench.log[0] as object)).toEqual(["kind", "start", "halt", "actions", "lamps", "award"]);
});

describe("an action key pressed again", () => {
  test.each(Object.entries(actionKeys))("goes through what %s can mean and comes round", (key, meanings) => {
    const bench = new Bench([{ kind: "phrase", start: "0:00:01.000" }]).to("0:00:02.000");
    for (const meaning of [...meanings, meanings[0]]) {
      bench.press(act("left", key as keyof typeof actionKeys));
      expect(bench.log[0]).toMatchObject({ actions: [`left ${meaning}`] });
    }
  });

  test("by the other side adds an action", () => {
    const bench = new Bench([{ kind: "phrase", start: "0:00:01.000" }]).to("0:00:02.000");
    bench.press(act("left", "attack")).press(act("right", "attack"));
    expect(bench.log[0]).toMatchObject({ actions: ["left attack", "right attack"] });
  });
});

describe("without a phrase under the playhead", () => {
  test.each<Tagging>([
    act("left", "attack"),
    { do: "award", award: "left" },
    { do: "lamp", doer: "left", lamp: "valid" },
    { do: "review", by: "left" },
    { do: "star" },
    { do: "take back" },
    { do: "halt" },
  ])("$do says what to do and changes nothing", (tagging) => {
    const bench = new Bench([{ kind: "phrase", start: "0:00:05.000" }]).to("0:00:04.000");
    const before = bench.text;
    bench.press(tagging);
    expect(bench.said).not.toBe("");
    expect(bench.text).toBe(before);
  });
});

test("keys speak of the phrase under the playhead, not of the last one in the file", () => {
  const bench = new Bench([
    { kind: "phrase", start: "0:00:01.000", halt: "0:00:02.000" },
    { kind: "phrase", start: "0:00:05.000", halt: "0:00:06.000" },
  ]).to("0:00:01.500");
  bench.press({ do: "award", award: "left" });
  expect(bench.log).toMatchObject([{ award: "left" }, { kind: "phrase" }]);
  expect(bench.log[1]).not.toHaveProperty("award");
});

describe("lamps", () => {
  const bench = () => new Bench([{ kind: "phrase", start: "0:00:01.000" }]).to("0:00:02.000");
  test("go on and off again, and off means none was lit", () => {
    const one = bench().press({ do: "lamp", doer: "left", lamp: "valid" });
    expect(one.log[0]).toMatchObject({ lamps: { left: "valid" } });
    expect(one.press({ do: "lamp", doer: "left", lamp: "valid" }).log[0]).toMatchObject({ lamps: {} });
  });
  test("both at once is one key", () => {
    expect(bench().press({ do: "lamp", doer: "both", lamp: "valid" }).log[0]).toMatchObject({
      lamps: { left: "valid", right: "valid" },
    });
  });
});

describe("the award", () => {
  const bench = (weapon = "foil", more = {}) =>
    new Bench([{ kind: "phrase", start: "0:00:01.000", ...more }], weapon).to("0:00:02.000");
  test("pressed again is taken back", () => {
    const one = bench().press({ do: "award", award: "left" }).press({ do: "award", award: "left" });
    expect(one.log[0]).not.toHaveProperty("award");
  });
  test("for the other side replaces it at foil and makes a double at épée", () => {
    const press = (weapon: string) =>
      bench(weapon).press({ do: "award", award: "left" }).press({ do: "award", award: "right" }).log[0];
    expect(press("foil")).toMatchObject({ award: "right" });
    expect(press("epee")).toMatchObject({ award: "both" });
  });
  test("none takes its reason from the lamps, and again another", () => {
    const one = bench("foil", { lamps: { left: "off-target" } }).press({ do: "award", award: "none" });
    expect(one.log[0]).toMatchObject({ award: "none", because: "off-target" });
    expect(one.press({ do: "award", award: "none" }).log[0]).toMatchObject({ because: "no lamp" });
    expect(one.press({ do: "award", award: "right" }).log[0]).not.toHaveProperty("because");
  });
});

describe("a review", () => {
  const called = { kind: "phrase", start: "0:00:01.000", halt: "0:00:02.000", award: "right" };
  const pending = { ...called, award: "pending" };
  test("begins as kept with what was called; a touch for the other side makes it changed", () => {
    const bench = new Bench([called]).to("0:00:03.000").press({ do: "review", by: "left" });
    expect(bench.log[1]).toEqual({
      kind: "review",
      at: "0:00:03.000",
      by: "left",
      result: "kept",
      award: "right",
    });
    bench.to("0:00:09.000").press({ do: "award", award: "left" });
    expect(bench.log[1]).toMatchObject({ result: "changed", award: "left" });
    expect(bench.log[0]).toMatchObject({ award: "right" });
  });
  test("of a call that waited for it is decided", () => {
    const bench = new Bench([pending]).to("0:00:03.000").press({ do: "review", by: "referee" });
    expect(bench.log[1]).toMatchObject({ by: "referee", result: "decided" });
    expect(bench.press({ do: "award", award: "left" }).log[1]).toMatchObject({
      result: "decided",
      award: "left",
    });
  });
  test("pressed again had no picture", () => {
    const bench = new Bench([called])
      .to("0:00:03.000")
      .press({ do: "review", by: "left" })
      .press({ do: "review", by: "left" });
    expect(bench.log).toHaveLength(2);
    expect(bench.log[1]).toMatchObject({ result: "no picture" });
  });
});

describe("a card or stop key", () => {
  test("pressed again at once changes the colour, later gives another card", () => {
    const bench = new Bench()
      .to("0:00:01.000")
      .press({ do: "card", to: "left" })
      .press({ do: "card", to: "left" });
    expect(bench.log).toEqual([{ kind: "card", at: "0:00:01.000", to: "left", card: "red" }]);
    expect(bench.to("0:00:09.000").press({ do: "card", to: "left" }).log).toHaveLength(2);
  });
  test("begins a stop, goes through the reasons, and halt ends it", () => {
    const bench = new Bench()
      .to("0:00:01.000")
      .press({ do: "stop", by: "referee" })
      .press({ do: "stop", by: "referee" });
    bench.to("0:00:20.000").press({ do: "halt" });
    expect(bench.log).toEqual([
      { kind: "stop", at: "0:00:01.000", until: "0:00:20.000", for: ["distance"], by: "referee" },
    ]);
  });
});

test("board, note and target put the cursor where something is to be written", () => {
  const bench = new Bench([{ kind: "phrase", start: "0:00:00.000" }]).to("0:00:01.000");
  expect(bench.press({ do: "board" }).wrote).toBe("score");
  expect(bench.log[1]).toEqual({ kind: "board", at: "0:00:01.000", score: [3, 4] });
  expect(bench.press({ do: "note" }).wrote).toBe("text");
  expect(bench.press({ do: "target" }).wrote).toBe("target");
});

test("take back removes the last action, delete the entry under the playhead", () => {
  const bench = new Bench([{ kind: "phrase", start: "0:00:00.000" }]).to("0:00:01.000");
  bench.press(act("left", "attack")).press(act("right", "parry")).press({ do: "take back" });
  expect(bench.log[0]).toMatchObject({ actions: ["left attack"] });
  expect(bench.press({ do: "take back" }).log[0]).not.toHaveProperty("actions");
  expect(bench.press({ do: "delete" }).log).toEqual([]);
});

test("a camera opposite the referee exchanges the hands", () => {
  expect(mirrored(act("left", "attack"))).toEqual(act("right", "attack"));
  expect(mirrored({ do: "award", award: "none" })).toEqual({ do: "award", award: "none" });
  expect(mirrored({ do: "review", by: "video-referee" })).toEqual({ do: "review", by: "video-referee" });
  expect(mirrored({ do: "lamp", doer: "both", lamp: "valid" })).toEqual({
    do: "lamp",
    doer: "both",
    lamp: "valid",
  });
});

test("any key at any frame of any bout leaves a bout that reads without a new error", () => {
  const doer = fc.constantFrom("left", "right", "both");
  const tagging: fc.Arbitrary<Tagging> = fc.oneof(
    fc.constantFrom<Tagging>(
      { do: "fence" },
      { do: "halt" },
      { do: "no lamp" },
      { do: "board" },
      { do: "note" },
    ),
    fc.constantFrom<Tagging>(
      { do: "star" },
      { do: "unsure" },
      { do: "distance" },
      { do: "period" },
      { do: "draw" },
    ),
    fc.constantFrom<Tagging>(
      { do: "correction" },
      { do: "end" },
      { do: "take back" },
      { do: "delete" },
      { do: "target" },
    ),
    fc.record({
      do: fc.constant("action" as const),
      doer,
      key: fc.constantFrom("attack", "parry", "lean"),
    }) as fc.Arbitrary<Tagging>,
    fc.record({
      do: fc.constant("lamp" as const),
      doer,
      lamp: fc.constantFrom("valid", "fault"),
    }) as fc.Arbitrary<Tagging>,
    fc.record({
      do: fc.constant("award" as const),
      award: fc.constantFrom("left", "right", "none", "pending"),
    }),
    fc.record({
      do: fc.constant("review" as const),
      by: fc.constantFrom("left", "referee"),
    }) as fc.Arbitrary<Tagging>,
    fc.record({ do: fc.constant("card" as const), to: doer }) as fc.Arbitrary<Tagging>,
    fc.record({
      do: fc.constant("stop" as const),
      by: fc.constantFrom("left", "table"),
    }) as fc.Arbitrary<Tagging>,
  );
  fc.assert(
    fc.property(
      anyBout,
      fc.array(fc.tuple(tagging, fc.nat(3_600_000)), { maxLength: 6 }),
      ({ text }, presses) => {
        let current = text;
        for (const [press, at] of presses) {
          const reading = readBout(current);
          if (reading.bout === undefined) throw new Error("unreadable");
          const result = tag(reading.bout, press, at as Milliseconds, now);
          if (!result.ok || result.value.change === undefined) continue;
          const edited = editBout(reading.scan, result.value.change);
          if (!edited.ok)
            throw new Error(
              `${edited.problem.message} ${JSON.stringify(press)} ${formatTime(at as Milliseconds)}`,
            );
          current = edited.value.text;
          const errors = (which: string) =>
            readBout(which).problems.filter((problem) => problem.severity === "error").length;
          expect(errors(current)).toBeLessThanOrEqual(errors(text));
        }
      },
    ),
    { numRuns: 400 },
  );
});
