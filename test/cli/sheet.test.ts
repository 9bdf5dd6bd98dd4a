// `boutline sheet` beside its plain use: tables for spreadsheets, tags.json, a second file.

import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { parse } from "csv-parse/sync";
import papaparse from "papaparse";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import { csvText, figuresOf, tablesOf, type Cell } from "../../src/figures";
import { studyOf } from "../../src/rules";
import { phrase, textOf, type Written } from "../rules/bouts";
import { buildCommand, type Command } from "./command";

const fencers = {
  left: { id: "tarn", name: '=Tarn, "V."\nLow' },
  right: { id: "odrey", name: "@Odrey" },
};
const log: readonly Written[] = [
  phrase("0:10", "0:14", {
    actions: ["left attack"],
    award: "left",
    target: "-flank",
    tags: ["+late", "long"],
  }),
  phrase("0:20", "0:24", {
    actions: ["left attack", "right parry", "right riposte"],
    award: "right",
    tags: ["\tlate"],
  }),
  { kind: "card", at: "0:00:26.000", to: "left", card: "yellow", for: "=1+1" },
  phrase("0:30", "0:34", { actions: ["right attack"], award: "none" }),
];
const about = { format: "training", rules: "fie-2026" } as const;

let command: Command;
beforeAll(async () => {
  command = await buildCommand();
  command.write("bout.bout.json", textOf(about, log, fencers));
}, 60_000);
afterAll(() => command.remove());

const folder = () => path.join(command.folder, "tables");
const read = (name: string) => readFileSync(path.join(folder(), name), "utf8");

describe("boutline sheet --csv", () => {
  test("writes one file a table, and nothing over what is there without --force", async () => {
    const first = await command.run("sheet", "bout.bout.json", "--csv", "tables");
    expect(first.status, first.errors).toBeLessThan(2);
    const names = readdirSync(folder());
    expect(names).toEqual(
      expect.arrayContaining(["opened.csv", "cards.csv", "comparisons.csv", "summary.csv"]),
    );
    writeFileSync(path.join(folder(), "cards.csv"), "mine");
    const again = await command.run("sheet", "bout.bout.json", "--csv", "tables");
    expect(again).toMatchObject({ status: 2, out: "" });
    expect(again.errors).toContain("--force");
    expect(read("cards.csv")).toBe("mine");
    const forced = await command.run("sheet", "bout.bout.json", "--csv", "tables", "--force");
    expect(forced.status).toBeLessThan(2);
    expect(read("cards.csv")).not.toBe("mine");
  });

  test("is read back by two independent parsers, formulas disarmed and numbers untouched", () => {
    const study = studyOf(readBout(textOf(about, log, fencers)));
    if (study === undefined) throw new Error("no bout");
    const tables = tablesOf(figuresOf(study.ledger), study.ledger);
    expect(tables.length).toBeGreaterThan(15);
    for (const { name, columns, rows } of tables) {
      const text = read(`${name}.csv`);
      expect(text).toBe(csvText({ columns, rows }));
      const expected = [columns, ...rows].map((row) => row.map(written));
      expect(parse(text), name).toEqual(expected);
      expect(papaparse.parse<string[]>(text.replace(/\r\n$/, "")).data, name).toEqual(expected);
    }
    expect(read("targets.csv")).toContain(",'-flank,");
    expect(read("tags.csv")).toContain("'+late");
    expect(read("cards.csv")).toContain("'=1+1");
    expect(read("opened.csv")).toContain(`left,"'=Tarn, ""V.""\nLow",own,for,1,2,0.5,`);
    // A net below zero is a number and keeps its sign.
    expect(read("opened-net.csv")).toMatch(/,-\d/);
  });

  test("refuses a folder that is a file", async () => {
    command.write("taken", "");
    expect(await command.run("sheet", "bout.bout.json", "--csv", "taken")).toMatchObject({
      status: 2,
      out: "",
    });
  });
});

/** What a cell must come back as. */
function written(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return String(cell);
  return ["=", "+", "-", "@", "\t", "\r"].some((sign) => cell.startsWith(sign)) ? `'${cell}` : cell;
}

describe("boutline sheet --json", () => {
  test("keeps its fields and adds the figures under their own name, tags with what they mean", async () => {
    command.write("tags.json", '{ // the coach\'s\n "long": "over four seconds" }');
    const { out } = await command.run("sheet", "bout.bout.json", "--json");
    const sheet = JSON.parse(out) as Record<string, unknown>;
    expect(sheet).toMatchObject({ sheet: 1, phrases: 3, score: [1, 1] });
    const figures = sheet["figures"] as { tags: { rows: unknown[] }; opened: unknown; summary: unknown[] };
    expect(figures.opened).toMatchObject({
      left: { own: { outcomes: { for: { count: 1, of: 2, entries: [0] } } } },
    });
    expect(figures.tags.rows).toContainEqual(
      expect.objectContaining({ tag: "long", definition: "over four seconds", phrases: [0] }),
    );
    expect(figures.summary.length).toBeLessThanOrEqual(5);
  });

  test("says what is wrong with a tags.json", async () => {
    command.write("tags.json", '{ "long": 4 }');
    const { status, out, errors } = await command.run("sheet", "bout.bout.json");
    command.write("tags.json", "{}");
    expect([status, out]).toEqual([2, ""]);
    expect(errors).toContain("tags.json");
  });
});

describe("boutline sheet --against", () => {
  test("a second tagging of the bout: agreement, with what differs side by side", async () => {
    const other = [
      { ...log[0], award: "none" },
      phrase("0:20.2", "0:24.1", { actions: ["left attack", "right counter-attack"], award: "right" }),
      phrase("0:50", "0:52", { actions: ["left attack"], award: "left" }),
    ];
    command.write("again.bout.json", textOf(about, other, fencers));
    const { out } = await command.run("sheet", "bout.bout.json", "--against", "again.bout.json", "--json");
    const { against } = JSON.parse(out) as { against: { relation: string; agreement: unknown } };
    expect(against.relation).toBe("same bout");
    expect(against.agreement).toMatchObject({
      unmatched: { first: [3], second: [2] },
      differences: [
        { what: "award", first: { entry: 0, says: "left" }, second: { entry: 0, says: "none" } },
        {
          what: "family",
          first: { entry: 1, says: "riposte" },
          second: { entry: 1, says: "counter-attack" },
        },
      ],
    });
    const text = await command.run("sheet", "bout.bout.json", "--against", "again.bout.json");
    expect(text.out).toContain("the same bout tagged twice");
  });

  test("another bout of a fencer: what differs between the two, and how many comparisons were tried", async () => {
    const turned = { left: { id: "stranger", name: "Mo Brink" }, right: fencers.left };
    command.write("other.bout.json", textOf(about, log, turned));
    const { out } = await command.run(
      "sheet",
      "bout.bout.json",
      "--against",
      "other.bout.json",
      "--csv",
      "both",
    );
    expect(out).toContain("two bouts");
    expect(out).toContain("(left, then right)");
    expect(out).toMatch(/compared: \d+ tried/);
    expect(existsSync(path.join(command.folder, "both", "two-bouts.csv"))).toBe(true);
    const forced = await command.run(
      "sheet",
      "bout.bout.json",
      "--against",
      "other.bout.json",
      "--as",
      "taggers",
    );
    expect(forced.out).toContain("the same bout tagged twice (as asked)");
  });

  test("refuses what makes no sense", async () => {
    for (const words of [["--as", "bouts"], ["--against", "bout.bout.json", "--as", "friends"], ["--force"]])
      expect(await command.run("sheet", "bout.bout.json", ...words)).toMatchObject({ status: 2, out: "" });
    expect(await command.run("sheet", "bout.bout.json", "--against", "none.bout.json")).toMatchObject({
      status: 2,
      out: "",
    });
  });
});
