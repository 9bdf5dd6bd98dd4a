// The plan's file: what is written is read again, whoever writes it, and what can't be used is refused with a reason.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  briefOf,
  noPlan,
  planFileName,
  planText,
  readPlan,
  shownPlan,
  thingOf,
  withoutTie,
  withTie,
  withWords,
  type Tie,
  type WrittenPlan,
} from "../../../src/figures/brief";
import { season, strongOpener } from "./season";

const tie = (about: string, bout = "a.bout.json", ...at: string[]): Tie => ({
  about,
  bouts: [{ bout, entries: at.map((one) => ({ kind: "phrase", at: one })) }],
});

function read(text: string): WrittenPlan {
  const plan = readPlan(text, "tarn", undefined);
  if (!plan.ok) throw new Error(plan.problem);
  return plan.value;
}

describe("the file of a plan", () => {
  test("what is written is read again, whatever the words", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(2), fc.string({ unit: "grapheme", maxLength: 300 }), fc.string()), {
          maxLength: 8,
        }),
        (changes) => {
          let plan = noPlan("tarn", undefined);
          for (const [thing, words, about] of changes)
            plan = withTie(withWords(plan, thing, words), thing, tie(about, "a.bout.json", "0:00:01.000"));
          expect(read(planText(plan))).toEqual(plan);
        },
      ),
    );
  });

  test("what somebody else has written into it beside ours survives a change", () => {
    const text = `{ "plan": 1, "fencer": "tarn", "coach": "Ilvo", "things": [{ "do": "wait", "when": "period 2" }] }`;
    const plan = withWords(read(text), 0, "wait longer");
    expect(JSON.parse(planText(plan))).toMatchObject({
      coach: "Ilvo",
      things: [{ do: "wait longer", when: "period 2" }],
    });
  });

  test("a line holds what fits on it, so that changes read well side by side", () => {
    const entries = Array.from({ length: 12 }, (_, at) => `0:00:${String(at).padStart(2, "0")}.000`);
    const lines = planText(withTie(noPlan("tarn", "odrey"), 0, tie("x", "a.bout.json", ...entries))).split(
      "\n",
    );
    expect(lines.filter((line) => line.includes('"kind"'))).toHaveLength(12);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(125);
  });

  for (const [name, text, problem] of [
    ["no JSON", "{ ", "this is no JSON"],
    ["a list", "[]", "should be"],
    ["another version", `{ "plan": 2, "fencer": "tarn", "things": [] }`, "2 is no value for plan"],
    [
      "another fencer",
      `{ "plan": 1, "fencer": "quill", "things": [] }`,
      'the plan for "quill", not for "tarn"',
    ],
    ["four things", `{ "plan": 1, "fencer": "tarn", "things": [{}, {}, {}, {}] }`, "things takes 3 of them"],
    [
      "a time that is none",
      planText(withTie(noPlan("tarn", undefined), 0, tie("x", "a", "later"))),
      "h:mm:ss.mmm",
    ],
  ] as const)
    test(`${name} is refused with the reason`, () => {
      const plan = readPlan(text, "tarn", undefined);
      expect(plan.ok ? "" : plan.problem).toContain(problem);
    });

  test("its name is the fencer's id where that can be a file's name everywhere, and never another fencer's", () => {
    expect(planFileName("tarn", undefined)).toBe("tarn.plan.json");
    expect(planFileName("tarn", "odrey")).toBe("tarn against odrey.plan.json");
    const hostile = [
      "../x",
      "a/b",
      "a\\b",
      "con",
      "Tarn",
      "tarn ",
      "ä",
      "",
      "tarn against odrey",
      "a\u0000b",
    ];
    const names = hostile.map((id) => planFileName(id, undefined));
    for (const name of names) expect(name).toMatch(/^[a-z0-9-]+\.plan\.json$/);
    expect(new Set([...names, "tarn.plan.json"]).size).toBe(hostile.length + 1);
  });
});

describe("changes of a plan", () => {
  test("phrases tied again are there once, others of the same figure are added", () => {
    const one = withTie(noPlan("tarn", undefined), 1, tie("ripostes", "a.bout.json", "0:00:01.000"));
    const two = withTie(one, 1, tie("ripostes", "a.bout.json", "0:00:01.000", "0:00:05.000"));
    const three = withTie(two, 1, tie("ripostes", "b.bout.json", "0:00:01.000"));
    expect(thingOf(three, 1).ties).toEqual([
      {
        about: "ripostes",
        bouts: [
          {
            bout: "a.bout.json",
            entries: [
              { kind: "phrase", at: "0:00:01.000" },
              { kind: "phrase", at: "0:00:05.000" },
            ],
          },
          { bout: "b.bout.json", entries: [{ kind: "phrase", at: "0:00:01.000" }] },
        ],
      },
    ]);
    expect(withoutTie(three, 1, "ripostes").things).toEqual([]);
  });
});

describe("a plan beside its brief", () => {
  const bouts = season(12, strongOpener, 21);
  const made = briefOf(bouts, "tarn");
  if (!made.ok) throw new Error(made.problem);
  const brief = made.value;
  const find = (file: string) => bouts.find((bout) => bout.file === file);

  test("what is not written yet is suggested, what is tied already is not suggested again", () => {
    const [first] = brief.plan;
    expect(shownPlan(brief, undefined, find).things.map(({ suggestion }) => suggestion)).toEqual(brief.plan);
    const plan = withTie(
      withWords(noPlan("tarn", undefined), 1, "wait"),
      1,
      tie(first?.about ?? "", "season/bout-001.bout.json", "0:00:02.000"),
    );
    const { things } = shownPlan(brief, plan, find);
    expect(things.map(({ suggestion }) => suggestion?.about)).toEqual([
      brief.plan[1]?.about,
      undefined,
      brief.plan[2]?.about,
    ]);
    expect(things[1]).toMatchObject({ words: "wait", suggestion: null });
  });

  test("phrases are found by their time; what is not there any more is lost, never the nearest", () => {
    const plan = withTie(
      noPlan("tarn", undefined),
      0,
      tie("x", "season/bout-001.bout.json", "0:00:02.000", "0:00:02.001"),
    );
    const gone = withTie(plan, 0, tie("y", "season/nowhere.bout.json", "0:00:02.000"));
    expect(shownPlan(brief, gone, find).things[0]?.ties).toEqual([
      { about: "x", phrases: [{ file: "season/bout-001.bout.json", entry: 0, at: 2000 }], lost: 1 },
      { about: "y", phrases: [], lost: 1 },
    ]);
  });
});
