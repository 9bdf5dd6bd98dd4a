// Agreement of random classes as NLTK and statsmodels have it: made by reference/readers.py and kept in reference/readers.txt.

import { readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { cohensKappa, fleissKappa, krippendorffsAlpha } from "../../src/statistics";

const text = readFileSync(path.join(import.meta.dirname, "reference", "readers.txt"), "utf8");

function listed(name: string): readonly (readonly number[])[] {
  const list = text.split("# ").find((one) => one.startsWith(`${name}\n`));
  const found = (list ?? "")
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => line.split(" ").map(Number));
  expect(found.length).toBe(150);
  return found;
}

/** The answers of each case, missing ones left out, and what the other program made of them. */
function classOf([cases = 0, readers = 0, ...rest]: readonly number[]) {
  const answers = Array.from({ length: cases }, (_, at) =>
    rest
      .slice(at * readers, (at + 1) * readers)
      .filter((word) => word >= 0)
      .map(String),
  );
  return { answers, value: rest[cases * readers] ?? NaN };
}

describe("agreement of random classes is that of other programs", () => {
  test("Krippendorff's alpha, with answers missing, that of NLTK", () => {
    for (const line of listed("alpha")) {
      const { answers, value } = classOf(line);
      expect(krippendorffsAlpha(answers).value).toBeCloseTo(value, 9);
    }
  });

  test("Fleiss' kappa that of statsmodels", () => {
    for (const line of listed("fleiss")) {
      const { answers, value } = classOf(line);
      const words = [...new Set(answers.flat())];
      const counts = answers.map((given) => words.map((word) => given.filter((one) => one === word).length));
      expect(fleissKappa(counts).value).toBeCloseTo(value, 9);
    }
  });

  test("Cohen's kappa and its limits that of statsmodels", () => {
    for (const [size = 0, ...rest] of listed("cohen")) {
      const table = Array.from({ length: size }, (_, row) => rest.slice(row * size, (row + 1) * size));
      const [value = NaN, error = NaN] = rest.slice(size * size);
      const found = cohensKappa(table);
      expect(found.value).toBeCloseTo(value, 9);
      expect(found.low).toBeCloseTo(Math.max(-1, value - 1.959963984540054 * error), 8);
      expect(found.high).toBeCloseTo(Math.min(1, value + 1.959963984540054 * error), 8);
    }
  });
});
