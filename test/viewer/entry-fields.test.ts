import { describe, expect, test } from "vitest";
import { entrySchemas, kinds } from "../../src/bout/schema";
import { Adjuster, endField } from "../../src/viewer/adjuster";
import {
  entryFields,
  fault,
  shownText,
  typedValue,
  type EntryField,
} from "../../src/viewer/detail/entry-fields";
import { item, phrase } from "./scenes";

function named(kind: string, name: string): EntryField {
  const found = entryFields(kind).find((field) => field.name === name);
  if (found === undefined) throw new Error(`no field ${name}`);
  return found;
}

describe("the detail strip", () => {
  test("offers only fields the bout file knows, for every kind of entry", () => {
    for (const kind of kinds)
      for (const { name } of entryFields(kind))
        expect(Object.keys(entrySchemas[kind].shape), kind).toContain(name);
  });

  test("every word offered can be read back from a bout file", () => {
    for (const kind of kinds)
      for (const { name, takes } of entryFields(kind)) {
        if (takes.as !== "choice" && takes.as !== "several") continue;
        const shape: Record<string, { safeParse(value: unknown): { success: boolean } }> =
          entrySchemas[kind].shape;
        for (const word of takes.choices)
          expect(shape[name]?.safeParse(word).success, `${kind} ${name} ${word}`).toBe(true);
      }
  });

  test("an entry of a later version still shows its time", () => {
    expect(entryFields("salute").map(({ name }) => name)).toContain("at");
  });

  test("typed text becomes the value the file wants, empty text takes the field away", () => {
    expect(typedValue(named("phrase", "target").takes, " flank ")).toBe("flank");
    expect(typedValue(named("phrase", "target").takes, " ")).toBeNull();
    expect(typedValue(named("phrase", "tags").takes, "tired, left hand,,tired")).toEqual([
      "tired",
      "left hand",
    ]);
    expect(typedValue(named("board", "score").takes, "7 12")).toEqual([7, 12]);
    expect(typedValue(named("period", "number").takes, "2")).toBe(2);
    expect(typedValue(named("period", "number").takes, "extra")).toBe("extra");
    expect(typedValue(named("phrase", "sure").takes, "on")).toBe(false);
    expect(typedValue(named("phrase", "sure").takes, "")).toBeNull();
    expect(typedValue(named("stop", "for").takes, "medical, re-centre")).toEqual(["medical", "re-centre"]);
    expect(typedValue(named("distance", "change").takes, "-1,5")).toBe(-1.5);
  });

  test("text that can't be that value is refused with a sentence", () => {
    for (const [kind, name, typed] of [
      ["phrase", "halt", "4:12"],
      ["card", "group", "7"],
      ["board", "score", "7"],
      ["stop", "for", "coffee"],
      ["phrase", "award", "nobody"],
    ] as const) {
      expect(typedValue(named(kind, name).takes, typed), typed).toBeUndefined();
      expect(fault(named(kind, name))).toMatch(/^[a-z].{10,}/);
    }
  });

  test("lists and numbers are shown as text", () => {
    expect(shownText(["re-centre", "distance"])).toBe("re-centre, distance");
    expect(shownText(3)).toBe("3");
    expect(shownText(undefined)).toBe("");
  });
});

describe("moving an end", () => {
  const one = phrase(3, 1000, 2000);

  test("goes to the field of its kind", () => {
    expect(endField("phrase", "beginning")).toBe("start");
    expect(endField("stop", "end")).toBe("until");
    expect(endField("card", "end")).toBeUndefined();
  });

  test("fast presses add up and go as one move once the text has caught up", () => {
    const adjuster = new Adjuster();
    expect(adjuster.ask({ item: one, field: "start", at: 1040 }, 0)?.at).toBe(1040);
    expect(adjuster.ask({ item: one, field: "start", at: 1080 }, 10)).toBeUndefined();
    expect(adjuster.ask({ item: one, field: "start", at: 1120 }, 20)).toBeUndefined();
    expect(adjuster.current(20)?.at).toBe(1120);
    const next = adjuster.arrived([item(0, 0), phrase(4, 1040, 2000)], 60);
    expect(next).toMatchObject({ at: 1120, field: "start", item: { index: 4 } });
    expect(adjuster.arrived([phrase(4, 1120, 2000)], 120)).toBeUndefined();
    expect(adjuster.current(120)).toBeUndefined();
  });

  test("a move the text never answers is given up", () => {
    const adjuster = new Adjuster();
    adjuster.ask({ item: one, field: "halt", at: 2040 }, 0);
    expect(adjuster.current(5000)).toBeUndefined();
  });
});
