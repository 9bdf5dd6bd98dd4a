// A federation's own departures, in a plain file beside its bouts.

import { describe, expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import { editionFileOf, editionNamed, offenceNamed, readEdition, studyOf } from "../../src/rules";
import { at, boutOf, foundIn, phrase, textOf, type Written } from "./bouts";

const file = "harbour-2026.edition.json";
const league: Written = {
  boutlineEdition: 1,
  id: "harbour-2026",
  title: "Harbour league",
  source: "league leaflet",
  extends: "wheelchair-2026",
  formats: { pool: { touches: { value: 4, source: "league leaflet, 2" } } },
  offences: [{ name: "Lifting from the seat", group: 2, annuls: false, source: "league leaflet, 7" }],
};
const text = (changes: Written = {}) => JSON.stringify({ ...league, ...changes }, undefined, 2);

function wrongIn(edition: string, name = file): string[] {
  const read = readEdition(edition, { file: name });
  return read.ok ? [] : read.problem.map(({ message, place }) => `${place.line}:${place.column} ${message}`);
}

describe("an edition file", () => {
  test("says what is different and takes the rest from the edition it extends", () => {
    const read = readEdition(text(), { file });
    if (!read.ok) throw new Error(JSON.stringify(read.problem));
    const wheelchair = editionNamed("wheelchair-2026");
    expect(read.value.formats.pool.touches).toEqual({ value: 4, source: "league leaflet, 2" });
    expect(read.value.formats.pool.periodSeconds).toEqual(wheelchair?.formats.pool.periodSeconds);
    expect(read.value.offences).toHaveLength(wheelchair?.offences.length ?? 0);
    expect(offenceNamed(read.value, "lifting from the seat")).toMatchObject({ group: 2, annuls: false });
  });

  test("may hold comments and a comma after the last field, and start with a mark", () =>
    expect(wrongIn(`\uFEFF// ours\n${text().replace(/\n\}$/, ",\n}")}`)).toEqual([]));

  test.each([
    ["a text that is no JSON", "{ broken", /^1:\d+ this is no JSON/],
    ["an empty text", "", /^1:1 this is no JSON/],
    ["another version", text({ boutlineEdition: 2 }), /^2:22 .*boutlineEdition/],
    [
      "an edition to build on that is not there",
      text({ extends: "fie-1912" }),
      /^6:14 no edition is named "fie-1912"/,
    ],
    [
      "an id that is not the file's name",
      text({ id: "other" }),
      /^3:9 the id of an edition is the name of its file/,
    ],
    ["a field that is none", text({ touchs: 4 }), /"touchs" is no field of an edition/],
    [
      "a fact without its source",
      text({ formats: { pool: { touches: { value: 4 } } } }),
      /formats\.pool\.touches\.source is missing/,
    ],
    [
      "a group that is none",
      text({ offences: [{ name: "x", group: 5, annuls: true, source: "s" }] }),
      /group/,
    ],
    [
      "an offence named twice",
      text({
        offences: [
          { name: "music", group: 1, annuls: false, source: "s" },
          { name: " Music", group: 2, annuls: false, source: "s" },
        ],
      }),
      /stands twice/,
    ],
    ["a list", "[]", /^1:1 /],
    ["a field with a name of JavaScript's own", `{ "__proto__": { "id": "x" } }`, /"__proto__" is no field/],
  ])("%s is refused, with its place", (_, edition, message) => {
    const wrong = wrongIn(edition);
    expect(wrong.length).toBeGreaterThan(0);
    expect(wrong.join("\n")).toMatch(message);
  });
});

describe("a bout by an own edition", () => {
  const bout = textOf({ rules: "harbour-2026", format: "pool" }, [
    phrase("0:10", "0:12", { award: "left" }),
    phrase("0:20", "0:22", { award: "left" }),
    phrase("0:30", "0:32", { award: "left" }),
    phrase("0:40", "0:42", { award: "left" }),
    { kind: "end", at: at("0:50"), by: "touches", winner: "left" },
  ]);

  test("names the file to look for; editions of Boutline, and names that are none of a file, have none", () => {
    expect(editionFileOf(boutOf({ rules: "harbour-2026" }, []))).toBe(file);
    for (const rules of ["fie-2026", "../secret", "a/b", "", "UPPER", "x".repeat(61)])
      expect(editionFileOf({ about: { weapon: "foil", format: "pool", rules } })).toBeUndefined();
  });

  test("is counted by it", () => {
    const study = studyOf(readBout(bout), { file, text: text() });
    expect(study?.findings).toEqual([]);
    expect(study?.ledger.winner).toBe("left");
    expect(study?.edition.title).toBe("Harbour league");
  });

  test("is counted by another while the file is missing or wrong, and says so", () => {
    expect(studyOf(readBout(bout))?.findings).toMatchObject([
      { rule: "unknown-edition", severity: "error", line: 6 },
      { rule: "end-against-score", severity: "warning" },
    ]);
    const study = studyOf(readBout(bout), { file, text: text({ extends: "wheelchair-2062" }) });
    expect(study?.findings[0]).toMatchObject({ rule: "edition-file", severity: "error", line: 6 });
    expect(study?.findings[0]?.message).toContain(
      `${file}:6:14: no edition is named "wheelchair-2062"; the nearest`,
    );
    expect(study?.edition.id).toBe("wheelchair-2026");
  });
});

describe("the edition in force", () => {
  const dated = (date: string, rules: string) => {
    const read = readBout(textOf({ rules }, []).replace('"weapon"', `"date": "${date}", "weapon"`));
    return studyOf(read)?.findings.filter(({ rule }) => rule === "edition-of-another-time") ?? [];
  };
  test("is suggested for a bout of another time, as a note at its date", () => {
    expect(dated("2025-03-08", "fie-2026")).toMatchObject([{ severity: "note", line: 4 }]);
    expect(dated("2025-03-08", "fie-2026")[0]?.message).toMatch(/"fie-2024".*check the current book/);
    expect(dated("2026-11-01", "fie-2024")[0]?.message).toContain('"fie-2026"');
  });
  test("is not questioned where it fits, or where none is known as old", () => {
    for (const [date, rules] of [
      ["2025-03-08", "fie-2024"],
      ["2026-11-01", "fie-2026"],
      ["2026-10-17", "wheelchair-2026"],
      ["2019-10-17", "wheelchair-2026"],
      ["2019-10-17", "fie-2024"],
    ] as const)
      expect(dated(date, rules)).toEqual([]);
  });
  test("an edition nobody knows is replaced by the latest of its family", () => {
    const study = studyOf(readBout(textOf({ rules: "fie-2019" }, [])));
    expect(study?.edition.id).toBe("fie-2026");
    expect(study?.findings[0]?.message).toContain("The bout is counted by fie-2026.");
  });
});

test("fie-2024 differs from fie-2026 in what it must, and marks what its own text contradicts", () => {
  const [older, newer] = [editionNamed("fie-2024"), editionNamed("fie-2026")];
  if (older === undefined || newer === undefined) throw new Error("an edition is missing");
  const different = older.offences.filter((offence) => !newer.offences.includes(offence));
  expect(different.map(({ name, group }) => [name, group])).toEqual([
    ["leaving the piste", 1],
    ["touch with the guard", 2],
    ["insulting an official", 4],
  ]);
  expect(offenceNamed(older, "touch with the guard")?.unverified).toContain("t.170");
  expect(older.formats).toEqual(newer.formats);
  expect(foundIn({ rules: "fie-2024" }, [phrase("0:10", "0:12", { award: "left" })])).toEqual([]);
});
