// A scan made from the one before an edit is the scan of the text from its start, whatever the edit does to it.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rescan } from "../../src/bout/rescan";
import { scanBout } from "../../src/bout/scan";
import { applyEdits } from "../../src/bout/text-edit";
import { anyBout, boutText } from "./texts";

const bits = [
  ...["{", "}", "[", "]", ":", ",", '"', "/", " ", "\n"],
  "//",
  "/*",
  "*/",
  "\\",
  "\r\n",
  "null",
  "7",
  '"log": []',
  '{ "kind": "note", "at": "0:00:01.000" }',
  ', { "kind": "note", "at": "0:00:02.000" }',
  '{ "kind": "note", "at": "0:00:03.000" }, // later\n',
  '"kind": "card", ',
  "\uFEFF",
];

const anyEdit = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  length: fc.oneof(fc.constant(0), fc.nat({ max: 5 }), fc.nat({ max: 200 })),
  text: fc.array(fc.constantFrom(...bits), { maxLength: 3 }).map((some) => some.join("")),
});

test("Any edit anywhere", () => {
  fc.assert(
    fc.property(anyBout, fc.array(anyEdit, { minLength: 1, maxLength: 2 }), ({ text }, wanted) => {
      const edits: { offset: number; length: number; text: string }[] = [];
      let free = 0;
      for (const { at, length, text: put } of wanted.toSorted((one, other) => one.at - other.at)) {
        const offset = Math.max(free, Math.floor(at * text.length));
        const taken = Math.min(length, text.length - offset);
        if (taken < 0) continue;
        edits.push({ offset, length: taken, text: put });
        free = offset + taken + 1;
      }
      const after = applyEdits(text, edits);
      expect(rescan(scanBout(text), edits, after)).toEqual(scanBout(after));
    }),
    { numRuns: 3000 },
  );
});

describe("What an edit leaves alone is taken over, not read again", () => {
  const at = (second: number) => ({ kind: "note", at: `0:00:0${second}.000` });
  const text = boutText([at(1), at(2), at(3), at(4), at(5)]);
  const before = scanBout(text);

  test.each([
    ["in the middle", '"0:00:03.000"', '"0:00:03.500"', [0, 1, 3, 4]],
    ["at the beginning", '"0:00:01.000"', '"0:00:01.500"', [1, 2, 3, 4]],
    ["at the end", '"0:00:05.000"', '"0:00:05.500"', [0, 1, 2, 3]],
  ])("%s", (_, was, becomes, untouched) => {
    const edit = { offset: text.indexOf(was), length: was.length, text: becomes };
    const after = rescan(before, [edit], applyEdits(text, [edit]));
    expect(after).toEqual(scanBout(after.text));
    for (const index of untouched) expect(after.entries[index]).toBe(before.entries[index]);
  });
});

test("A comment that swallows what follows is seen", () => {
  const text = boutText([
    { kind: "note", at: "0:00:01.000" },
    { kind: "note", at: "0:00:02.000" },
  ]);
  for (const put of ["//", "/*", '"', "[", "}"]) {
    const edit = { offset: text.indexOf('"kind"'), length: 0, text: put };
    const after = applyEdits(text, [edit]);
    expect(rescan(scanBout(text), [edit], after)).toEqual(scanBout(after));
  }
});
