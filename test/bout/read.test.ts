import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { EntryCache } from "../../src/bout/entry-cache";
import { readBout, type Reading } from "../../src/bout/read";
import { anyBout, boutText, header } from "./texts";

const said = (reading: Reading) =>
  reading.problems.map(
    ({ rule, severity, message, place }) => `${place.line}:${place.column} ${severity} ${rule}: ${message}`,
  );

const phrase = { kind: "phrase", start: "0:00:01.000", halt: "0:00:02.000" };

describe("a bout file", () => {
  test("with nothing wrong gives its bout and no problem", () => {
    const reading = readBout(boutText([phrase]));
    expect(said(reading)).toEqual([]);
    expect(reading.editable).toBe(true);
    expect(reading.bout?.about.weapon).toBe("foil");
    expect(reading.bout?.log).toMatchObject([
      { index: 0, at: "0:00:01.000", entry: { start: 1000, halt: 2000 } },
    ]);
  });

  test("may have comments, trailing commas, CRLF and a byte order mark", () => {
    const text = `\uFEFF// a bout\r\n${boutText([phrase]).replace("}\n  ]", "}, /* last */\n  ],").replaceAll("\n", "\r\n")}`;
    const reading = readBout(text);
    expect(said(reading)).toEqual([]);
    expect(reading.bout?.log).toHaveLength(1);
  });

  test("may have an empty log and no recordings at all", () => {
    const text = boutText([]).replace('  "recordings": [],\n', "");
    const reading = readBout(text);
    expect(said(reading)).toEqual([]);
    expect(reading.bout).toMatchObject({ log: [], recordings: [] });
  });

  test("accepts and ignores $schema", () => {
    expect(said(readBout(boutText([]).replace("{\n", '{ "$schema": "x",\n')))).toEqual([]);
  });

  test("says where the entry at a problem's line is, byte order mark or not", () => {
    const text = boutText([phrase, { kind: "card", at: "0:00:03.000", to: "left", card: "green" }]);
    const plain = readBout(text).problems[0];
    const marked = readBout(`\uFEFF${text}`).problems[0];
    const column = (text.split("\n")[7]?.indexOf('"green"') ?? 0) + 1;
    expect(plain?.place).toMatchObject({ line: 8, column });
    expect(marked?.place).toMatchObject({ line: 8, column });
    expect(text.slice(plain?.place.offset).startsWith('"green"')).toBe(true);
  });
});

describe("an entry that can't be read", () => {
  test.each([
    [
      { kind: "phraze", start: "0:00:01.000" },
      "unknown-kind",
      '"phraze" is no kind of entry; the nearest is "phrase"',
    ],
    [{ start: "0:00:01.000" }, "unknown-kind", "kind is missing"],
    [{ kind: "phrase" }, "wrong-value", "start is missing"],
    [{ kind: "phrase", start: "1:00" }, "wrong-value", "a time is written h:mm:ss.mmm"],
    [{ kind: "phrase", start: 61 }, "wrong-value", "start should be text in double quotes, not 61"],
    [
      { ...phrase, actions: ["left atack"] },
      "wrong-value",
      '"left atack" is no value for actions[0]; the nearest is "left attack"',
    ],
    [{ ...phrase, award: "both sides" }, "wrong-value", "award"],
    [{ ...phrase, lamps: { left: "white" } }, "wrong-value", "lamps.left"],
    [{ kind: "card", at: "0:00:01.000", to: "left" }, "wrong-value", "card is missing"],
    [{ kind: "review", at: "0:00:01.000", by: "left", result: "changed" }, "missing", "needs its award"],
    [{ kind: "board", at: "0:00:01.000", score: [1] }, "wrong-value", "score"],
    [{ kind: "board", at: "0:00:01.000", score: [1, -1] }, "wrong-value", "0 or more"],
    [{ kind: "period", at: "0:00:01.000", number: 4 }, "wrong-value", "number"],
    [{ kind: "stop", at: "0:00:01.000", for: [] }, "wrong-value", "for"],
    [{ kind: "fit", at: "0:00:01.000", points: [] }, "wrong-value", "points needs at least 2"],
    [{ kind: "__proto__", at: "0:00:01.000" }, "unknown-kind", "no kind of entry"],
    [7, "wrong-value", "a log entry is a group in { }"],
    [null, "wrong-value", "a log entry is a group in { }"],
  ])("%j is reported at its place and skipped, the rest is read", (entry, rule, message) => {
    const reading = readBout(boutText([phrase, entry, { ...phrase, start: "0:01:00.000" }]));
    expect(reading.bout?.log.map((record) => record.index)).toEqual([0, 2]);
    expect(reading.problems[0]).toMatchObject({ rule, severity: "error", entry: 1, place: { line: 8 } });
    expect(reading.problems[0]?.message).toContain(message);
    expect(reading.editable).toBe(true);
  });
});

describe("a field nobody knows", () => {
  test("is a warning at its place, with the field that may have been meant", () => {
    const reading = readBout(boutText([{ ...phrase, awrad: "left" }]));
    expect(said(reading)).toEqual([
      '7:81 warning unknown-field: "awrad" is no field Boutline knows here; it is kept and not used (the nearest is "award")',
    ]);
    expect(reading.bout?.log).toHaveLength(1);
  });

  test("is found inside lamps, points and the header too", () => {
    const text = boutText([
      { ...phrase, lamps: { up: "valid" } },
      {
        kind: "fit",
        at: "0:00:02.000",
        points: [
          { image: [0, 0], floor: [0, 0], x: 1 },
          { image: [1, 0], floor: [1, 0] },
        ],
      },
    ]).replace('"weapon"', '"weather": "warm", "weapon"');
    expect(readBout(text).problems.map((problem) => [problem.rule, problem.severity])).toEqual([
      ["unknown-field", "warning"],
      ["unknown-field", "warning"],
      ["unknown-field", "warning"],
    ]);
  });
});

describe("a key written twice", () => {
  test("is a warning; the last one counts", () => {
    const reading = readBout(
      boutText([phrase]).replace('"weapon": "foil"', '"weapon": "foil", "weapon": "sabre"'),
    );
    expect(reading.problems).toMatchObject([
      { rule: "duplicate-key", severity: "warning", place: { line: 3 } },
    ]);
    expect(reading.bout?.about.weapon).toBe("sabre");
  });

  test("leaves nothing of a first log where the last one is no list", () => {
    const reading = readBout(boutText([phrase]).replace(/\}\s*$/, ', "log": 5 }'));
    expect(reading.bout).toBeUndefined();
    expect(reading.editable).toBe(false);
    expect(reading.problems.map(({ rule }) => rule)).toEqual(["duplicate-key", "wrong-value"]);
  });
});

describe("an empty file", () => {
  test.each(["", " \r\n\n", "\uFEFF", "// nothing yet\n/* at all */"])(
    "is said to be empty at its first character: %j",
    (text) => {
      expect(said(readBout(text))).toEqual([
        "1:1 error not-json: the file is empty; a new bout file is made from a recording",
      ]);
    },
  );

  test.each([
    ["hello", "this word is not JSON"],
    ["/* open", "this comment is not closed"],
  ])("is none where something stands in it: %j", (text, message) => {
    expect(readBout(text).problems[0]?.message).toContain(message);
  });
});

describe("a header", () => {
  test.each([
    ['"boutline": 1,', "", "boutline is missing"],
    ['"weapon": "foil", ', "", "bout.weapon is missing"],
    ['"weapon": "foil"', '"weapon": "sabr"', 'the nearest is "sabre"'],
    ['"format": "elimination"', '"format": "pools"', 'the nearest is "pool"'],
    ['"name": "Bo"', '"club": "Bo"', "fencers.right.name is missing"],
    ['"log": [', '"lag": [', "log is missing"],
  ])("without what must be there (%s) gives no bout and says what to add", (what, instead, message) => {
    const reading = readBout(boutText([phrase]).replace(what, instead));
    expect(reading.bout).toBeUndefined();
    expect(said(reading).join("\n")).toContain(message);
  });

  test("with a wrong value that may be left out is read without it", () => {
    const text = boutText([phrase]).replace('"weapon"', '"date": "17.10.2026", "weapon"');
    const reading = readBout(text);
    expect(reading.problems).toMatchObject([{ severity: "error", place: { line: 3 } }]);
    expect(reading.bout?.about.date).toBeUndefined();
    expect(reading.bout?.log).toHaveLength(1);
  });

  test("with one bad recording keeps the others", () => {
    const text = boutText([]).replace(
      '"recordings": []',
      '"recordings": [{ "file": 3 }, { "file": "b.mp4" }]',
    );
    expect(readBout(text).bout?.recordings).toEqual([{ file: "b.mp4" }]);
  });

  test("of a later version is read as far as understood and never edited", () => {
    const reading = readBout(boutText([phrase]).replace('"boutline": 1', '"boutline": 2'));
    expect(reading.problems).toMatchObject([{ rule: "later-version", severity: "warning" }]);
    expect(reading.bout?.log).toHaveLength(1);
    expect(reading.editable).toBe(false);
  });
});

describe("a text that is no bout file", () => {
  test.each([
    "",
    "  ",
    "no",
    "[]",
    "3",
    "{",
    '{ "log": [',
    '{ "log": [ { "kind": }',
    "\u0000",
    '{ "a": "\u0001" }',
  ])("%j gives a problem and no crash, and is never edited", (text) => {
    const reading = readBout(text);
    expect(reading.bout).toBeUndefined();
    expect(reading.editable).toBe(false);
    expect(reading.problems.length).toBeGreaterThan(0);
  });

  test("nested deeper than any bout is refused, not followed", () => {
    for (const depth of [100, 200_000]) {
      const reading = readBout(`{ ${header} "log": ${"[".repeat(depth)}${"]".repeat(depth)} }`);
      expect(reading.problems.some((problem) => problem.message.includes("nested too deep"))).toBe(true);
      expect(reading.editable).toBe(false);
    }
  });

  test("cut off anywhere never throws and never counts as editable", () => {
    const whole = boutText([phrase, { kind: "note", at: "0:00:03.000", text: 'a "b" \\ c' }]);
    for (let length = 0; length < whole.trimEnd().length; length++) {
      const reading = readBout(whole.slice(0, length));
      expect(reading.editable).toBe(false);
      expect(reading.problems.length).toBeGreaterThan(0);
    }
  });

  test("that is any text at all never throws", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.json(),
          anyBout.map(({ text }) => text.slice(7)),
        ),
        (text) => {
          const { problems } = readBout(text);
          for (const { place } of problems)
            expect(place.offset + place.length).toBeLessThanOrEqual(text.length + 1);
        },
      ),
      { numRuns: 500 },
    );
  });
});

test("a log of 10 MB is read", () => {
  const line = { ...phrase, note: "x".repeat(900) };
  const text = boutText(Array.from({ length: 10_500 }, () => line));
  expect(text.length).toBeGreaterThan(10_000_000);
  expect(readBout(text).bout?.log).toHaveLength(10_500);
});

test("entries out of order, with a halt before the start, are read as they stand", () => {
  const log = [phrase, { ...phrase, start: "0:00:00.500", halt: "0:00:00.100" }];
  expect(readBout(boutText(log)).bout?.log.map((record) => record.at)).toEqual([
    "0:00:01.000",
    "0:00:00.500",
  ]);
});

test("any valid entry in any formatting is read without a problem, and the same with a cache", () => {
  const cache = new EntryCache();
  fc.assert(
    fc.property(anyBout, ({ text, entries }) => {
      const reading = readBout(text);
      expect(said(reading).filter((line) => !line.includes("review that"))).toEqual([]);
      expect(reading.bout?.log).toHaveLength(entries.length);
      expect(readBout(text, cache).bout).toEqual(reading.bout);
      expect(readBout(text, cache).bout).toEqual(reading.bout);
    }),
    { numRuns: 300 },
  );
});
