import { describe, expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import { editionNamed, findingsOf, studyOf, textFindings } from "../../src/rules";
import { at, foundIn, ledgerOf, phrase, readingOf, textOf, type About, type Written } from "./bouts";

const board = (time: string, left: number, right: number, fields: Written = {}): Written => ({
  kind: "board",
  at: at(time),
  score: [left, right],
  ...fields,
});
const review = (time: string, fields: Written): Written => ({ kind: "review", at: at(time), ...fields });
const card = (time: string, to: string, colour: string, fields: Written = {}): Written => ({
  kind: "card",
  at: at(time),
  to,
  card: colour,
  ...fields,
});
const end = (time: string): Written => ({ kind: "end", at: at(time), by: "time" });

const left = (start: string, halt: string, fields: Written = {}) =>
  phrase(start, halt, { award: "left", ...fields });

test("a bout without a mistake has no findings", () =>
  expect(
    foundIn({ video: true }, [
      left("0:10", "0:12"),
      board("0:15", 1, 0),
      card("0:18", "right", "yellow", { for: "turning the back" }),
      phrase("0:20", "0:22", { award: "pending" }),
      review("0:25", { by: "referee", result: "decided", award: "right" }),
      phrase("0:25", "0:27", { award: "none", because: "no lamp" }),
      { kind: "period", at: at("3:00"), number: 2 },
      left("3:10", "3:12"),
      board("3:15", 2, 1),
      end("9:00"),
    ]),
  ).toEqual([]));

describe("each mistake is found, at the later of the two entries that disagree", () => {
  const cases: [string, About, Written[], [string, string, number][]][] = [
    [
      "a phrase that starts before the one above it is halted",
      {},
      [left("0:10", "0:14"), left("0:13.999", "0:16")],
      [["overlap", "error", 1]],
    ],
    [
      "a phrase that starts when the other is halted is none",
      {},
      [left("0:10", "0:14"), left("0:14", "0:16")],
      [],
    ],
    [
      "an entry above which a later one stands",
      {},
      [left("0:10", "0:12"), board("0:40", 1, 0), left("0:20", "0:22"), board("0:50", 2, 0)],
      [["out-of-order", "error", 2]],
    ],
    ["entries at the same time keep their order", {}, [left("0:10", "0:12"), board("0:10", 1, 0)], []],
    ["a halt before the start", {}, [left("0:12", "0:10")], [["halt-before-start", "error", 0]]],
    [
      "two touches from one phrase at foil (FIE t.89)",
      {},
      [phrase("0:10", "0:12", { award: "both" })],
      [["two-touches", "error", 0]],
    ],
    [
      "two touches from one phrase at sabre (FIE t.106), given by a review",
      { weapon: "sabre" },
      [
        phrase("0:10", "0:12", { award: "pending" }),
        review("0:20", { by: "referee", result: "decided", award: "both" }),
      ],
      [["two-touches", "error", 1]],
    ],
    ["not at épée (FIE t.92)", { weapon: "epee" }, [phrase("0:10", "0:12", { award: "both" })], []],
    [
      "a phrase after the end",
      {},
      [left("0:10", "0:12"), end("0:20"), left("0:30", "0:32")],
      [["phrase-after-end", "error", 2]],
    ],
    [
      "a board that shows another score than the log gives",
      {},
      [left("0:10", "0:12"), board("0:20", 0, 1)],
      [["board-disagrees", "warning", 1]],
    ],
    [
      "the same difference again is only a note, a new one is a warning",
      {},
      [
        left("0:10", "0:12"),
        board("0:20", 1, 1),
        left("0:30", "0:32"),
        board("0:40", 2, 1),
        board("0:50", 2, 2),
        board("1:00", 2, 0),
      ],
      [
        ["board-disagrees", "warning", 1],
        ["board-disagrees", "note", 3],
        ["board-disagrees", "warning", 4],
      ],
    ],
    [
      "an appeal with none left (FIE t.61.1)",
      { format: "pool", video: true },
      [
        left("0:10", "0:12"),
        review("0:20", { by: "right", result: "kept" }),
        left("0:30", "0:32"),
        review("0:40", { by: "right", result: "changed", award: "none" }),
        left("0:42", "0:43"),
        review("0:45", { by: "left", result: "kept" }),
      ],
      [["appeal-with-none-left", "warning", 3]],
    ],
    [
      "a second yellow (FIE t.165)",
      {},
      [card("0:10", "left", "yellow"), card("0:20", "right", "yellow"), card("0:30", "left", "yellow")],
      [["second-yellow", "warning", 2]],
    ],
    [
      "a yellow after a red (FIE t.162.2)",
      {},
      [card("0:10", "left", "red", { group: 2 }), card("0:20", "both", "yellow")],
      [["yellow-after-red", "warning", 1]],
    ],
    [
      "a yellow for somebody off the piste is no card of the fencer's (FIE t.168)",
      {},
      [
        card("0:10", "left", "yellow"),
        card("0:20", "left", "yellow", { for: "disturbing order off the piste" }),
      ],
      [],
    ],
    [
      "P-cards are apart (FIE t.124)",
      {},
      [
        phrase("0:01", "1:02", { award: "none", because: "no lamp" }),
        card("1:10", "both", "P-red"),
        card("1:20", "left", "yellow"),
      ],
      [],
    ],
    [
      "a period of more than its 3 minutes and 3 seconds, at the phrase that passes it (FIE t.39.1)",
      {},
      [left("0:10", "2:10"), left("3:00", "4:03"), left("4:10", "4:10.001"), left("4:20", "4:30")],
      [["period-too-long", "warning", 2]],
    ],
    [
      "a new period starts from nothing",
      {},
      [left("0:10", "3:10"), { kind: "period", at: at("4:00"), number: 2 }, left("5:00", "8:00")],
      [],
    ],
    [
      "an extra minute of more than 63 seconds (FIE t.40.3)",
      {},
      [
        { kind: "opening", at: at("0:00"), score: [3, 3], period: 3 },
        { kind: "draw", at: at("8:59"), to: "left" },
        { kind: "period", at: at("9:00"), number: "extra" },
        phrase("10:00", "11:04", { award: "none", because: "no lamp" }),
      ],
      [["period-too-long", "warning", 3]],
    ],
    ["a training bout has no periods", { format: "training" }, [left("0:10", "9:10")], []],
    [
      "a touch for a side without its valid lamp (FIE t.54.2)",
      {},
      [
        left("0:10", "0:12", { lamps: { left: "off-target", right: "valid" } }),
        left("0:20", "0:22", { lamps: {} }),
      ],
      [
        ["award-without-lamp", "warning", 0],
        ["award-without-lamp", "warning", 1],
      ],
    ],
    [
      "a lamp among several is enough",
      {},
      [left("0:10", "0:12", { lamps: { left: ["off-target", "valid"] } })],
      [],
    ],
    [
      "a review that gives a touch without a lamp",
      {},
      [left("0:10", "0:12"), review("0:20", { by: "right", result: "changed", award: "right" })],
      [["award-without-lamp", "warning", 1]],
    ],
    [
      "a review without a phrase before it",
      {},
      [card("0:10", "left", "yellow"), review("0:20", { by: "referee", result: "kept" })],
      [["review-without-phrase", "warning", 1]],
    ],
    ["a phrase not yet called", {}, [phrase("0:10", "0:12")], [["not-yet-called", "note", 0]]],
    ["a phrase left open", {}, [{ kind: "phrase", start: at("0:10") }], [["not-halted", "note", 0]]],
    [
      "lamps not recorded",
      {},
      [{ kind: "phrase", start: at("0:10"), halt: at("0:12"), award: "left" }],
      [["lamps-not-recorded", "note", 0]],
    ],
    [
      "a call pending on the last phrase waits; on an earlier one the review is missing",
      {},
      [phrase("0:10", "0:12", { award: "pending" }), phrase("0:20", "0:22", { award: "pending" })],
      [
        ["pending-award", "warning", 0],
        ["pending-award", "note", 1],
      ],
    ],
    [
      "points that make no fit",
      {},
      [
        {
          kind: "fit",
          at: at("0:01"),
          points: [
            { image: [0.1, 0.8], floor: [-2, 0] },
            { image: [0.1, 0.8], floor: [2, 0] },
          ],
        },
      ],
      [["unusable-fit", "warning", 0]],
    ],
  ];
  test.each(cases)("%s", (_, about, log, expected) => expect(foundIn(about, log)).toEqual(expected));
});

test("confirmed: true lowers a finding about the entry to a note", () => {
  const log = (confirmed: boolean) => [left("0:10", "0:12"), board("0:20", 0, 0, { confirmed })];
  expect(foundIn({}, log(false))).toEqual([["board-disagrees", "warning", 1]]);
  expect(foundIn({}, log(true))).toEqual([["board-disagrees", "note", 1]]);
});

test("the graver finding about an entry comes first", () =>
  expect(
    foundIn({}, [
      left("0:10", "0:12"),
      { kind: "phrase", start: at("0:11"), halt: at("0:13"), award: "both" },
    ]),
  ).toEqual([
    ["overlap", "error", 1],
    ["two-touches", "error", 1],
    ["lamps-not-recorded", "note", 1],
  ]));

test("a finding tells a coach what, where and by which article", () => {
  const ledger = ledgerOf({}, [card("0:10", "left", "yellow"), card("1:20.5", "left", "yellow")]);
  expect(findingsOf(ledger)).toEqual([
    {
      rule: "second-yellow",
      severity: "warning",
      entry: 1,
      at: "0:01:20.500",
      message:
        "Tarn holds a yellow card already, so the next one of group 1 is red; correct the card or an earlier one",
      source: "FIE t.165, t.162.2",
      page: "second-yellow.md",
      related: [{ entry: 0, message: "the first yellow card" }],
    },
  ]);
});

describe("problems of the text and findings about the log together", () => {
  test("an unknown edition is an error where it is written, and the bout is counted all the same", () => {
    const text = textOf({ rules: "wheelchair-2062" }, [left("0:10", "0:12")]);
    const study = studyOf(readBout(text));
    const line = text.split("\n").findIndex((each) => each.includes("2062")) + 1;
    expect(study?.findings).toMatchObject([{ rule: "unknown-edition", severity: "error", line }]);
    expect(study?.findings[0]?.message).toContain('the nearest is "wheelchair-2026"');
    expect(study?.ledger.end.score).toEqual([1, 0]);
    expect(study?.edition).toBe(editionNamed("wheelchair-2026"));
  });

  test("stand in the order of the log, whether named by entry or by place", () => {
    const reading = readingOf({}, [
      left("0:10", "0:12"),
      board("0:20", 3, 3),
      { kind: "card", at: at("0:30"), to: "nobody", card: "red" },
      phrase("0:40", "0:42"),
    ]);
    const found = studyOf(reading)?.findings.map(({ rule, entry, line }) => [
      rule,
      entry,
      line === undefined,
    ]);
    expect(found).toEqual([
      ["board-disagrees", 1, true],
      ["wrong-value", undefined, false],
      ["not-yet-called", 3, true],
    ]);
  });

  test("a text that holds no bout still has its own findings", () => {
    const reading = readBout('{ "boutline": 1, "log": [');
    expect(studyOf(reading)).toBeUndefined();
    expect(textFindings(reading).map(({ severity }) => severity)).toContain("error");
  });
});
