import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  canonicalJson,
  emptyAnswer,
  sha256Hex,
  withCheck,
  type SeminarAnswers,
  type SeminarKey,
  type UncheckedAnswers,
} from "../../src/figures/seminar-format";
import { readAnswers, readersOf, readKey, rolesOf } from "../../src/figures/seminar-reading";

const pack = "0123456789abcdef0123456789abcdef";
const key: SeminarKey = {
  key: 1,
  pack,
  title: "Evening one",
  made: "2026-11-25T20:00:00.000Z",
  ways: ["live"],
  hideLamps: false,
  reveal: "never",
  answerSeconds: 20,
  passMark: 0.8,
  seed: "a",
  clips: [
    {
      id: "00000001",
      file: "clips/00000001.mp4",
      repeats: null,
      paper: "referee",
      source: {
        bout: "a.bout.json",
        hash: "0".repeat(64),
        phrase: { kind: "phrase", at: "0:00:01.000", nth: 0 },
      },
      standing: "scored",
      reference: { ...emptyAnswer, award: "left" },
      panel: [],
    },
  ],
};
const answers = (changes: Partial<UncheckedAnswers> = {}): SeminarAnswers =>
  withCheck({
    answers: 1,
    pack,
    reader: "Ada Quill",
    way: "live",
    started: "2026-11-25T20:00:00.000Z",
    finished: null,
    items: [{ clip: "00000001", at: null, showings: 1, seconds: 3.5, answer: { ...emptyAnswer, sure: 2 } }],
    ...changes,
  });
const file = (name: string, changes: Partial<UncheckedAnswers> = {}) => ({
  name,
  text: JSON.stringify(answers(changes), undefined, 2),
});
const ruleOf = (name: ReturnType<typeof file>) => readersOf(key, [name]).refused[0]?.problem.rule;

describe("the check of an answers file", () => {
  it("is SHA-256 as Node's own library works it out", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (text) => {
        expect(sha256Hex(text)).toBe(createHash("sha256").update(text, "utf8").digest("hex"));
      }),
    );
  });

  it("does not depend on the order of fields or on blanks", () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (value) => {
        const backwards = Object.fromEntries(Object.entries(value).reverse());
        expect(canonicalJson(backwards)).toBe(canonicalJson(value));
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it("lets a file through as the page saved it, however it was laid out since", () => {
    expect(readAnswers(JSON.stringify(answers())).ok).toBe(true);
    expect(readAnswers("\uFEFF" + JSON.stringify(answers(), undefined, "\t")).ok).toBe(true);
  });
});

describe("answers that are refused", () => {
  it("were edited by hand", () => {
    const { name, text } = file("a");
    expect(ruleOf({ name, text: text.replace('"sure": 2', '"sure": 4') })).toBe("changed-by-hand");
    expect(ruleOf({ name, text: text.replace("Ada Quill", "Ida Quill") })).toBe("changed-by-hand");
  });
  it("belong to another pack", () => {
    expect(ruleOf(file("a", { pack: "f".repeat(32) }))).toBe("another-pack");
  });
  it("bear a name that is a path", () => {
    for (const reader of ["../../etc/x", "a\\b", "C:x", "..", " ", "a\u202Eb", "x".repeat(61)])
      expect(ruleOf(file("a", { reader })), reader).toBe("bad-name");
  });
  it("name a clip the key does not have, or one twice", () => {
    const [item] = answers().items;
    if (item === undefined) throw new Error("no item");
    expect(ruleOf(file("a", { items: [{ ...item, clip: "deadbeef" }] }))).toBe("unknown-clip");
    expect(ruleOf(file("a", { items: [item, item] }))).toBe("not-answers");
  });
  it("come from a reader who has answered already, as people write names", () => {
    const { answers: kept, refused } = readersOf(key, [
      file("one"),
      file("two", { reader: "ada  QUILL" }),
      file("three", { way: "monitor" }),
    ]);
    expect(kept).toHaveLength(2);
    expect(refused).toMatchObject([{ name: "two", problem: { rule: "duplicate-reader" } }]);
    expect(refused[0]?.problem.message).toContain("one");
  });
  it("are no JSON, no answers, or from a later version", () => {
    expect(ruleOf({ name: "a", text: "{" })).toBe("not-json");
    expect(ruleOf({ name: "a", text: "[]" })).toBe("not-answers");
    expect(ruleOf({ name: "a", text: '{"answers":2}' })).toBe("later-version");
  });
  it("come from the wrong round", () => {
    expect(ruleOf(file("a", { role: "head referee" }))).toBe("role-answers");
    expect(rolesOf(key, [file("a")]).refused[0]?.problem.rule).toBe("no-role");
    expect(rolesOf(key, [file("a", { role: "head referee" })]).answers).toHaveLength(1);
  });
});

describe("a key", () => {
  it("reads back as written", () => {
    expect(readKey(JSON.stringify(key))).toEqual({ ok: true, value: key });
  });
  it("is refused where a file leaves the pack or a repeat leads nowhere", () => {
    const [clip] = key.clips;
    for (const change of [{ file: "clips/../../x.mp4" }, { repeats: "00000009" }, { id: "x" }])
      expect(readKey(JSON.stringify({ ...key, clips: [{ ...clip, ...change }] }))).toMatchObject({
        ok: false,
        problem: { rule: "not-a-key" },
      });
  });
});
