import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { quickScan } from "../../src/bout/quick-scan";
import { scanBout, thoroughScan } from "../../src/bout/scan";
import { anyBout, boutText, header } from "./texts";

const note = { kind: "note", at: "0:00:01.000", text: 'a "quoted" \\ // word, }' };

describe("the quick way and the thorough way", () => {
  test("read any valid bout in any formatting alike", () => {
    let quick = 0;
    fc.assert(
      fc.property(anyBout, ({ text }) => {
        if (quickScan(text, 40) !== undefined) quick++;
        expect(scanBout(text)).toEqual(thoroughScan(text));
      }),
      { numRuns: 600 },
    );
    expect(quick).toBeGreaterThan(300);
  });

  test("read any text at all alike", () => {
    const piece = fc.oneof(
      fc.constantFrom(
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        '"',
        "/",
        "*",
        "\\",
        "\n",
        " ",
        "log",
        '"log":',
        "//",
        "/*",
        "*/",
        "1",
        "null",
      ),
      fc.string(),
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(piece, { maxLength: 30 }).map((all) => all.join("")),
        ),
        (text) => {
          expect(scanBout(text)).toEqual(thoroughScan(text));
        },
      ),
      { numRuns: 3000 },
    );
  });

  test.each([
    ["a plain bout", boutText([note, note]), true],
    ["comments and a byte order mark", `\uFEFF/* a */ ${boutText([note])} // b`, true],
    ["a trailing comma", boutText([note]).replace("}\n  ]", "},\n  ]"), true],
    ["a trailing comma before a comment", boutText([note]).replace("}\n  ]", "}, // last\n  ]"), false],
    ["a key written twice", boutText([note]).replace('"kind"', '"at": "x", "kind"'), false],
    ["a log written twice", `{ ${header} "log": [], "log": [] }`, false],
    ["a number in the log", `{ ${header} "log": [1] }`, false],
    ["a log that is no list", `{ ${header} "log": {} }`, true],
    ["a list of another name", `{ ${header} "log": [], "extra": [{}, []] }`, true],
    ["a log inside something else", `{ ${header} "extra": { "log": [{}] }, "log": [{}] }`, true],
    ["a comma too many", `{ ${header} "log": [,] }`, false],
    ["a missing colon", '{ "log" [] }', false],
    ["a field called __proto__", `{ ${header} "log": [{ "__proto__": 1 }] }`, true],
  ])("read %s alike", (_, text, quick) => {
    expect(quickScan(text, 40) !== undefined).toBe(quick);
    expect(scanBout(text)).toEqual(thoroughScan(text));
  });
});

test("A text with a mistake in every character is refused after the first thousand", () => {
  const { problems, root, broken } = thoroughScan(`{ ${header} "log": [${",".repeat(200_000)}`);
  expect(problems).toHaveLength(1001);
  expect(problems.at(-1)?.message).toBe(
    "with so many mistakes above this is no bout file; it is read no further",
  );
  expect([root, broken]).toEqual([undefined, true]);
});
