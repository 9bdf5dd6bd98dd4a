import { expect, test } from "vitest";
import { EntryCache } from "../../src/bout/entry-cache";
import { readBout } from "../../src/bout/read";
import { sceneOf, spliceOf, type SceneContent } from "../../src/host/scene";
import { sceneSchema, type Item } from "../../src/messages/scene";
import { studyOf } from "../../src/rules/index";
import { boutText, phrase, second, studied } from "./bouts";

function scene(log: readonly object[], about: object = {}): SceneContent {
  const { reading, study } = studied(boutText(log, about));
  return sceneOf(reading, study, true);
}

test("A scene passes the contract the viewer checks it against", () => {
  const { head, items } = scene([
    phrase(1, 3, { actions: ["left attack"], lamps: { left: ["valid", "fault"] }, award: "left" }),
    { kind: "card", at: second(4), to: "right", card: "yellow" },
    phrase(5, undefined),
  ]);
  const whole = { type: "scene", version: 1, base: null, head, splice: { start: 0, remove: 0, add: items } };
  expect(sceneSchema.parse(whole)).toEqual(whole);
});

test("An item says who has the touch, how it was told and what stands after it", () => {
  const [item] = scene([
    phrase(1, 3, {
      actions: ["left attack"],
      lamps: { left: "valid" },
      award: "left",
      star: true,
      sure: false,
    }),
  ]).items;
  expect(item).toMatchObject({
    index: 0,
    kind: "phrase",
    at: 1000,
    until: 3000,
    side: "left",
    label: "1",
    sentence: "left attack; left lamp: touch left",
    number: 1,
    state: "called",
    lamps: { left: ["valid"], right: [] },
    actions: ["left attack"],
    star: true,
    unsure: true,
    after: { score: [1, 0], appeals: [2, 2], period: 1, fenced: 2000 },
  });
});

test("Phrases are open, then waiting for their call, then called", () => {
  const { items } = scene([
    phrase(1, 2, { award: "none" }),
    phrase(3, 4),
    phrase(5, 6, { award: "pending" }),
    phrase(7, undefined),
    { kind: "note", at: second(8) },
  ]);
  expect(items.map(({ state }) => state)).toEqual(["called", "waiting", "waiting", "open", "plain"]);
});

test("The ledger line says what the next card of group 1 costs, and nothing while it is only a warning", () => {
  const { head, items } = scene([{ kind: "card", at: second(1), to: "left", card: "yellow" }]);
  expect(head.before.cost).toEqual(["", ""]);
  expect(items[0]?.after.cards).toEqual([["yellow"], []]);
  expect(items[0]?.after.cost).toEqual(["red card, a touch", ""]);
});

test("Without video refereeing there is no number of appeals", () => {
  expect(scene([], { video: false }).head.before.appeals).toEqual([null, null]);
});

test("The head carries names, offences of the weapon and whether the camera stands opposite", () => {
  const { head } = scene([], { view: "opposite", title: "A bout", weapon: "epee" });
  expect(head).toMatchObject({
    readable: true,
    editable: true,
    title: "A bout",
    weapon: "epee",
    mirrored: true,
  });
  expect(head.names).toEqual(["Vessa Tarn", "Kel Odrey"]);
  expect(head.offences).toContainEqual({ name: "early start", group: 1 });
  expect(head.offences.map(({ name }) => name)).toContain("apron covering too much");
  expect(scene([]).head.offences.map(({ name }) => name)).not.toContain("apron covering too much");
  expect(scene([]).head.title).toBe("Vessa Tarn, Kel Odrey");
});

test("A finding stands at its item, a mistake of the text in the head with its line", () => {
  const text = boutText([{ kind: "board", at: second(1), score: [3, 0] }, { kind: "noise" }]);
  const { reading, study } = studied(text);
  const { head, items } = sceneOf(reading, study, true);
  expect(items).toHaveLength(1);
  expect(items[0]?.findings).toEqual([
    { severity: "warning", message: expect.stringContaining("3:0") as string },
  ]);
  expect(head.problems).toEqual([
    {
      severity: "error",
      line: 1,
      column: expect.any(Number) as number,
      message: expect.stringContaining("noise") as string,
    },
  ]);
});

test("A text without a bout is shown with its problems and can't be edited", () => {
  const reading = readBout('{ "boutline": 1, ');
  const { head, items } = sceneOf(reading, undefined, true);
  expect(items).toEqual([]);
  expect(head).toMatchObject({ readable: false, editable: false });
  expect(head.problems.length).toBeGreaterThan(0);
});

test("A file that can't be written is readable and not editable", () => {
  const { reading, study } = studied(boutText([]));
  expect(sceneOf(reading, study, false).head).toMatchObject({ readable: true, editable: false });
});

test("The fields for the detail strip are as written, unknown ones included, geometry left out", () => {
  const corners = [
    [0.1, 0.5],
    [0.2, 0.5],
  ];
  const { items } = scene([
    phrase(1, 2, { target: "flank", mine: { a: [1] } }),
    { kind: "platforms", at: second(3), left: corners },
  ]);
  expect(items[0]?.fields).toEqual({
    kind: "phrase",
    start: second(1),
    halt: second(2),
    target: "flank",
    mine: { a: [1] },
  });
  expect(items[1]?.fields).toEqual({ kind: "platforms", at: second(3) });
});

test("The drift thread starts at 0 and starts again after a re-centre", () => {
  // Two known points a metre apart along the bottom of the picture: 0.1 of its width is a metre.
  const fit = {
    kind: "fit",
    at: second(0),
    points: [
      { image: [0.5, 0.8], floor: [0, 0] },
      { image: [0.6, 0.8], floor: [1, 0] },
    ],
  };
  const platforms = (at: number, metres: number) => ({
    kind: "platforms",
    at: second(at),
    left: [
      [0.45 + metres / 10, 0.8],
      [0.4 + metres / 10, 0.8],
    ],
    right: [
      [0.55 + metres / 10, 0.8],
      [0.6 + metres / 10, 0.8],
    ],
  });
  const { head } = scene([
    fit,
    platforms(1, 0),
    platforms(2, 0.25),
    { kind: "stop", at: second(3), for: "re-centre" },
    platforms(4, 0.1),
    platforms(5, -0.1),
  ]);
  expect(head.drift.map(({ broken }) => broken)).toEqual([true, false, true, false]);
  [0, 0.25, 0, -0.2].forEach((along, index) => expect(head.drift[index]?.along).toBeCloseTo(along, 9));
  expect(head.poses).toHaveLength(8);
});

test("A scene made after another one is the same as one made from nothing, whatever was edited", () => {
  const base = [
    phrase(1, 3, { actions: ["left attack"], lamps: {}, award: "left" }),
    { kind: "review", at: second(4), by: "right", result: "kept", award: "left" },
    { kind: "card", at: second(5), to: "right", card: "yellow" },
    phrase(6, 8, { lamps: {}, award: "right" }),
    { kind: "board", at: second(9), score: [1, 1] },
    phrase(10, 12, { lamps: {}, award: "pending" }),
    { kind: "note", at: second(13), text: "a note" },
    { kind: "end", at: second(14), by: "time" },
  ];
  const changed = (index: number, entry: object) => base.map((one, at) => (at === index ? entry : one));
  const logs = [
    base,
    changed(0, phrase(1, 3, { lamps: {}, award: "right" })),
    changed(1, { kind: "review", at: second(4), by: "right", result: "changed", award: "none" }),
    changed(2, { kind: "card", at: second(5), to: "right", card: "red" }),
    changed(4, { kind: "board", at: second(9), score: [2, 1] }),
    base.slice(1),
    base.slice(0, -1),
    [base[0] ?? {}, ...base],
    [],
  ];
  const about = [{}, { rules: "fie-2026" }, { video: false }, { format: "pool" }];
  const cases = logs.flatMap((log) => about.map((more) => boutText(log, more)));
  const cache = new EntryCache();
  const made = (text: string, before?: SceneContent) => {
    const reading = readBout(text, cache);
    return sceneOf(reading, studyOf(reading), true, before);
  };
  for (const one of cases)
    for (const other of cases) {
      const { head, items } = made(other);
      const after = made(other, made(one));
      expect(after.items).toEqual(items);
      expect(after.head).toEqual(head);
    }
});

test("Items that still hold are taken over as they are", () => {
  const cache = new EntryCache();
  const made = (text: string, before?: SceneContent) => {
    const reading = readBout(text, cache);
    return sceneOf(reading, studyOf(reading), true, before);
  };
  const log = [1, 2, 3].map((at) => ({ kind: "note", at: second(at) }));
  const before = made(boutText(log));
  const after = made(boutText([...log, { kind: "note", at: second(4) }]), before);
  for (const position of [0, 1, 2]) expect(after.items[position]).toBe(before.items[position]);
});

const numbered = (...numbers: number[]) =>
  scene(numbers.map((at) => ({ kind: "note", at: second(at) }))).items;

test("A splice holds the items that changed and no others", () => {
  const before = numbered(1, 2, 3);
  const applied = (one: readonly Item[], two: readonly Item[]) => {
    const { start, remove, add } = spliceOf(one, two);
    return [...one.slice(0, start), ...add, ...one.slice(start + remove)];
  };
  expect(spliceOf(before, numbered(1, 2, 3))).toEqual({ start: 3, remove: 0, add: [] });
  expect(spliceOf(before, numbered(1, 2, 3, 4))).toMatchObject({ start: 3, remove: 0, add: [{ at: 4000 }] });
  expect(spliceOf(before, numbered(1, 3))).toMatchObject({
    start: 1,
    remove: 2,
    add: [{ at: 3000, index: 1 }],
  });
  expect(spliceOf([], before)).toMatchObject({ start: 0, remove: 0 });
  for (const after of [[], numbered(1), numbered(2, 3), numbered(1, 4, 3), numbered(1, 1, 1, 1)])
    expect(applied(before, after)).toEqual(after);
});
