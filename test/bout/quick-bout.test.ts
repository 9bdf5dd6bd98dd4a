// The quick ways and the schema: whatever a text holds, the quick ones say the same or nothing.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { quickBout } from "../../src/bout/quick-bout";
import { quickEntry, quickHead } from "../../src/bout/quick-entry";
import { readBout } from "../../src/bout/read";
import { boutFileSchema, entrySchemas, kinds, type Kind } from "../../src/bout/schema";
import { parseTime, timePattern } from "../../src/bout/time";
import { anyBout, anyEntry, boutText, header } from "./texts";

const colonsIn = (text: string) => text.split(":").length - 1;
const quick = (text: string) => quickBout(text, colonsIn(text));

/** What a hand may get wrong: values of other kinds, words with a letter too many, fields nobody knows. */
const anyMistake = fc.oneof(
  fc.constantFrom<unknown>(null, true, false, 0, -1, 1.5, 1e999, "", [], {}, "left", "0:00:01.000", "1:2:3"),
  fc.constantFrom<unknown>("extra", 4, ["valid"], ["left attack"], [[0, 0]], [1, 2], [1, 2, 3], {
    left: "valid",
  }),
  fc.jsonValue(),
);
const fieldNames = [
  ...new Set([...kinds.flatMap((kind) => Object.keys(entrySchemas[kind].shape)), "x", "__proto__"]),
];

const entryWithMistakes = fc
  .tuple(
    anyEntry,
    fc.array(fc.tuple(fc.constantFrom(...fieldNames), fc.option(anyMistake, { nil: undefined })), {
      maxLength: 2,
    }),
  )
  .map(([entry, mistakes]) => {
    const changed = Object.entries(entry).filter(([name]) => !mistakes.some(([other]) => other === name));
    const added = mistakes.filter(([, value]) => value !== undefined);
    const fields = [...changed, ...added].map(
      ([name, value]) => `${JSON.stringify(name)}:${JSON.stringify(value)}`,
    );
    return JSON.parse(`{${fields.join()}}`) as Record<string, unknown>;
  });

/** What the schema makes of a raw entry in which it knows every field; undefined for any other. */
function bySchema(raw: Record<string, unknown>): unknown {
  const kind = raw["kind"] as Kind;
  if (!kinds.includes(kind)) return undefined;
  const { problems, bout } = readBout(`{ ${header} "log": [${JSON.stringify(raw)}] }`);
  const parsed = entrySchemas[kind].safeParse(raw);
  return problems.length === 0 && bout?.log.length === 1 && parsed.success ? parsed.data : undefined;
}

describe("an entry checked quickly", () => {
  test("is the schema's, and one is refused just where the schema has something to say", () => {
    let [taken, refused] = [0, 0];
    fc.assert(
      fc.property(fc.oneof(anyEntry, entryWithMistakes), (raw) => {
        const before = JSON.stringify(raw);
        const entry = quickEntry(raw);
        expect(entry).toEqual(bySchema(raw));
        expect(JSON.stringify(raw)).toBe(before);
        if (entry === undefined) refused++;
        else taken++;
      }),
      { numRuns: 4000 },
    );
    expect(taken).toBeGreaterThan(500);
    expect(refused).toBeGreaterThan(500);
  });

  test.each([null, undefined, 1, "phrase", [], {}, { kind: "phrase" }, { kind: "toString" }])(
    "%j is none",
    (raw) => {
      expect(quickEntry(raw)).toBeUndefined();
    },
  );
});

describe("a head checked quickly", () => {
  /** Mostly right. */
  const mostly = <T>(right: fc.Arbitrary<T>, wrong: fc.Arbitrary<unknown> = anyMistake) =>
    fc.oneof({ weight: 12, arbitrary: right }, { weight: 1, arbitrary: wrong });
  const person = fc.record(
    {
      id: fc.string(),
      name: mostly(fc.string()),
      hand: mostly(fc.constantFrom("left", "right")),
      seed: mostly(fc.integer({ min: 1 }), fc.double()),
    },
    { requiredKeys: ["name"] },
  );
  const head = fc.record(
    {
      boutline: mostly(fc.constant(1)),
      bout: fc.record(
        {
          weapon: mostly(fc.constantFrom("foil", "epee", "sabre")),
          format: fc.constantFrom("pool", "training"),
          rules: fc.string(),
          date: mostly(fc.constant("2026-01-02"), fc.constantFrom("2026-1-2", "2026-01-02 ")),
          video: mostly(fc.boolean()),
        },
        { requiredKeys: ["weapon", "format", "rules"] },
      ),
      fencers: fc.record({ left: person, right: person }),
      recordings: fc.array(fc.record({ file: fc.string(), offset: fc.double() }, { requiredKeys: ["file"] })),
      tagged: fc.record({ by: fc.string() }),
      more: mostly(fc.constant(undefined)),
    },
    { requiredKeys: ["boutline", "bout", "fencers"] },
  );
  test("is the schema's, without a field it doesn't know", () => {
    const schema = boutFileSchema.omit({ log: true });
    let taken = 0;
    fc.assert(
      fc.property(head, (given) => {
        const raw = JSON.parse(JSON.stringify(given)) as object;
        const found = quickHead(raw);
        const parsed = schema.safeParse(raw);
        const known = parsed.success && JSON.stringify(sorted(parsed.data)) === JSON.stringify(sorted(raw));
        expect(found).toEqual(known ? parsed.data : undefined);
        if (found !== undefined) taken++;
      }),
      { numRuns: 3000 },
    );
    expect(taken).toBeGreaterThan(300);
  });
});

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const fields = Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1));
  return Object.fromEntries(fields.map(([name, inner]) => [name, sorted(inner)]));
}

describe("a bout read quickly", () => {
  const agrees = (text: string): boolean => {
    const found = quick(text);
    if (found === undefined) return false;
    const { bout, problems, editable } = readBout(text);
    expect(problems).toEqual([]);
    expect(editable).toBe(true);
    const log = bout?.log.map((record) => ({ ...record, offset: -1, length: 0 }));
    expect(found).toEqual({ ...bout, log });
    return true;
  };

  test("is the one read thoroughly, in any formatting", () => {
    let taken = 0;
    fc.assert(
      fc.property(anyBout, ({ text }) => {
        if (agrees(text)) taken++;
      }),
      { numRuns: 600 },
    );
    expect(taken).toBeGreaterThan(200);
  });

  test("is none where a hand has spoilt the text, unless there is nothing to say about it", () => {
    const spoilt = fc
      .tuple(
        anyBout,
        fc.nat(),
        fc.nat(30),
        fc.constantFrom(
          "",
          '"',
          ":",
          ",",
          "{",
          "]",
          '"log":[],',
          '"a":1,',
          '"at":"0:00:01.000",',
          "\\u003a",
          "é",
          "\u0000",
        ),
      )
      .map(([{ text }, place, length, put]) => {
        const at = place % (text.length + 1);
        return text.slice(0, at) + put + text.slice(at + (put === "" ? length : 0));
      });
    fc.assert(
      fc.property(spoilt, (text) => {
        agrees(text);
      }),
      { numRuns: 3000 },
    );
  });

  const note = { kind: "note", at: "0:00:01.000", text: "a word: two" };
  test.each([
    ["a plain bout", boutText([note]), true],
    ["an empty log", boutText([]), true],
    ["a word with an escaped quote", boutText([{ ...note, text: 'a "word": one' }]), true],
    ["a key written twice", boutText([note]).replace('"kind"', '"at": "0:00:02.000", "kind"'), false],
    [
      "a key written twice, once with its first letter escaped",
      boutText([note]).replace('"kind"', '"\\u0061t": "0:00:02.000", "kind"'),
      false,
    ],
    [
      "a key written twice, and an escaped colon to make up for it",
      boutText([{ ...note, text: "" }]).replace('"text": ""', '"text": "", "text": "\\u003a"'),
      false,
    ],
    ["a log written twice", boutText([note]).replace(/\}\s*$/, ', "log": [] }'), false],
    ["a field nobody knows", boutText([{ ...note, more: 1 }]), false],
    ["a later version", boutText([note]).replace('"boutline": 1', '"boutline": 2'), false],
    ["no log", `{ ${header} "more": [] }`, false],
    [
      "a review without its award",
      boutText([{ kind: "review", at: "0:00:01.000", by: "left", result: "changed" }]),
      false,
    ],
    ["nothing", "", false],
    ["a list", "[]", false],
    ["null", "null", false],
  ])("%s", (_, text, taken) => {
    expect(agrees(text)).toBe(taken);
  });
});

test("A time is read where it is written as the pattern says", () => {
  const near = fc
    .array(fc.constantFrom("0", "1", "5", "6", "9", ":", ".", " ", "-", "٣"), { minLength: 9, maxLength: 15 })
    .map((all) => all.join(""));
  const right = fc
    .tuple(fc.nat(9999), fc.nat(70), fc.nat(70), fc.nat(999))
    .map(
      ([hours, minutes, seconds, rest]) =>
        `${hours}:${String(minutes).padStart(2, "0")}:${String(seconds).padStart(2, "0")}.${String(rest).padStart(3, "0")}`,
    );
  fc.assert(
    fc.property(fc.oneof(near, right, fc.string()), (text) => {
      const parts = timePattern.test(text) ? text.split(/[:.]/).map(Number) : undefined;
      const [hours = 0, minutes = 0, seconds = 0, rest = 0] = parts ?? [];
      const time = ((hours * 60 + minutes) * 60 + seconds) * 1000 + rest;
      expect(parseTime(text)).toBe(parts === undefined ? undefined : time);
    }),
    { numRuns: 3000 },
  );
});
