import { expect, test } from "vitest";
import type { Kind } from "../../src/bout/schema";
import { fieldChange, type FieldValue } from "../../src/host/field";

function written(kind: Kind, field: string, value: FieldValue): unknown {
  const result = fieldChange(4, kind, field, value);
  if (!result.ok) return result.problem;
  expect(result.value).toMatchObject({ do: "change", index: 4 });
  return result.value.do === "change" ? result.value.fields[0]?.value : undefined;
}

test("A time stays text, and milliseconds become one", () => {
  expect(written("phrase", "halt", "0:00:04.960")).toBe("0:00:04.960");
  expect(written("phrase", "start", 4960)).toBe("0:00:04.960");
  expect(written("phrase", "halt", "4.96")).toBe(
    '"4.96" for halt: a time is written h:mm:ss.mmm, for example 0:04:12.480; nothing was changed.',
  );
});

test("A score can be typed with a colon, a hyphen or a blank", () => {
  for (const typed of ["3:2", "3 - 2", "3 2", "3, 2"])
    expect(written("board", "score", typed)).toEqual([3, 2]);
  expect(written("board", "score", [3, 2])).toEqual([3, 2]);
  expect(written("board", "score", "three")).toMatch(/score/);
  expect(written("gap", "appeals", "1:0")).toEqual([1, 0]);
});

test("Tags, actions and reasons can be typed with commas", () => {
  expect(written("phrase", "tags", "second intention, tired ")).toEqual(["second intention", "tired"]);
  expect(written("phrase", "tags", ["a, b"])).toEqual(["a, b"]);
  expect(written("phrase", "actions", "left attack, right parry")).toEqual(["left attack", "right parry"]);
  expect(written("stop", "for", "re-centre, distance")).toEqual(["re-centre", "distance"]);
  expect(written("stop", "for", "re-centre")).toBe("re-centre");
});

test("A wrong word is refused with what could be meant", () => {
  expect(written("review", "result", "kpet")).toBe(
    '"kpet" is no value for result; the nearest is "kept"; nothing was changed.',
  );
  expect(written("phrase", "actions", "left atack")).toMatch(/the nearest is "left attack"/);
});

test("Numbers may be typed as text, and text that looks like a number stays text", () => {
  expect(written("period", "number", "2")).toBe(2);
  expect(written("period", "number", "extra")).toBe("extra");
  expect(written("card", "group", "3")).toBe(3);
  expect(written("distance", "change", "-1")).toBe(-1);
  expect(written("note", "text", "42")).toBe("42");
  expect(written("board", "clock", "2:41")).toBe("2:41");
});

test("Yes and no are true and false", () => {
  expect(written("phrase", "star", true)).toBe(true);
  expect(written("phrase", "sure", "false")).toBe(false);
});

test("Empty text and null take a field away, but not one that must be there", () => {
  expect(written("phrase", "note", "  ")).toBeUndefined();
  expect(written("phrase", "target", null)).toBeUndefined();
  expect(written("card", "card", "")).toBe("A card can't do without card; nothing was changed.");
  expect(written("phrase", "start", null)).toMatch(/can't do without start/);
});

test("A field inside another is named with a dot", () => {
  const result = fieldChange(0, "phrase", "lamps.left", "valid");
  expect(result).toEqual({
    ok: true,
    value: { do: "change", index: 0, fields: [{ path: ["lamps", "left"], value: "valid" }] },
  });
});

test("Fields that the kind does not have are refused", () => {
  expect(written("note", "award", "left")).toBe('A note has no field "award" to write in.');
  expect(written("note", "kind", "phrase")).toMatch(/no field "kind"/);
  expect(written("note", "constructor", "x")).toMatch(/no field/);
  expect(written("phrase", "lamps.middle", "valid")).toMatch(/no field/);
});
