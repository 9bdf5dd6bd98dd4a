import { expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import { callLabel, callSentence, callSide } from "../../src/rules/call";
import { studyOf } from "../../src/rules/index";

function told(...log: object[]): { sentence: string; label: string; side: string | null }[] {
  const text = JSON.stringify({
    boutline: 1,
    bout: { weapon: "foil", format: "elimination", rules: "wheelchair-2026" },
    fencers: { left: { name: "Vessa Tarn" }, right: { name: "Kel Odrey" } },
    log,
  });
  const study = studyOf(readBout(text));
  if (study === undefined || study.ledger.rows.length !== log.length)
    throw new Error("the log can't be read");
  return study.ledger.rows.map((row) => ({
    sentence: callSentence(row, study.ledger),
    label: callLabel(row, study.ledger),
    side: callSide(row, study.ledger),
  }));
}

const phrase = (rest: object) => ({ kind: "phrase", start: "0:00:01.000", halt: "0:00:03.000", ...rest });
const only = (rest: object) => told(phrase(rest))[0];

test("A phrase is told in order: actions, lamps, then what the referee gave", () => {
  expect(
    only({
      actions: ["left attack", "right parry", "right riposte"],
      lamps: { right: "valid" },
      award: "right",
    }),
  ).toEqual({
    sentence: "left attack, right parry, right riposte; right lamp: touch right",
    label: "1",
    side: "right",
  });
});

test("No touch is told with its reason", () => {
  expect(
    only({
      actions: ["both attack"],
      lamps: { left: "valid", right: "valid" },
      award: "none",
      because: "simultaneous",
    }),
  ).toEqual({ sentence: "both attack; both lamps: no touch (simultaneous)", label: "", side: null });
  expect(only({ actions: ["left attack"], lamps: {}, award: "none" })?.sentence).toBe(
    "left attack; no lamp: no touch",
  );
});

test("Each lamp of a side is named", () => {
  expect(only({ lamps: { left: ["off-target", "fault"], right: "valid" }, award: "none" })?.sentence).toBe(
    "left off-target lamp and left fault lamp and right lamp: no touch",
  );
  expect(only({ lamps: { left: "off-target", right: "off-target" }, award: "none" })?.sentence).toBe(
    "both off-target lamps: no touch",
  );
});

test("A phrase without a halt is told as still being fenced", () => {
  expect(told({ kind: "phrase", start: "0:00:01.000" })[0]?.sentence).toBe("fencing since 0:00:01.000");
  expect(told({ kind: "phrase", start: "0:00:01.000", actions: ["left attack"] })[0]?.sentence).toBe(
    "left attack: not halted yet",
  );
  expect(
    told({ kind: "phrase", start: "0:00:01.000", actions: ["left attack"], award: "left" })[0]?.sentence,
  ).toBe("left attack: not halted yet, touch left");
});

test("A phrase halted and not called, and one that waits for the video, say so", () => {
  expect(only({ actions: ["left attack"] })).toEqual({
    sentence: "left attack: not yet called",
    label: "",
    side: null,
  });
  expect(only({ award: "pending" })?.sentence).toBe("waits for the video review");
});

test("An annulled touch is told with its reason and has no number", () => {
  expect(only({ award: "left", annulled: "left", for: "after halt" })).toEqual({
    sentence: "touch left, annulled (after halt)",
    label: "",
    side: null,
  });
  expect(only({ award: "both", annulled: "left", for: "card" })?.sentence).toBe(
    "touch for both, annulled for left (card)",
  );
});

test("The referee's own telling is added where it differs from what was seen", () => {
  expect(only({ actions: ["left attack"], call: ["right attack"], award: "right" })?.sentence).toBe(
    "left attack: touch right; the referee told: right attack",
  );
  expect(only({ actions: ["left attack"], call: ["left attack"], award: "left" })?.sentence).toBe(
    "left attack: touch left",
  );
});

test("A review that changes the call is told at the phrase and at the review, and moves the number", () => {
  const [first, , changed, review] = told(
    phrase({ award: "right" }),
    { kind: "card", at: "0:00:03.500", to: "right", card: "red", for: "early start" },
    { kind: "phrase", start: "0:00:04.000", halt: "0:00:05.000", award: "right" },
    { kind: "review", at: "0:00:06.000", by: "left", result: "changed", award: "left", appeal: "kept" },
  );
  expect(first?.label).toBe("1");
  expect(changed).toEqual({
    sentence: "touch right, changed by review to touch left",
    label: "2",
    side: "left",
  });
  expect(review).toEqual({
    sentence:
      "video appeal by left: call changed from touch right to touch left, board shows the appeal kept",
    label: "changed",
    side: "left",
  });
});

test("Reviews that keep, decide or lack a picture", () => {
  const review = (rest: object, award = "left") =>
    told(phrase({ award }), { kind: "review", at: "0:00:06.000", ...rest }).map(({ sentence }) => sentence);
  expect(review({ by: "right", result: "kept", award: "left" })).toEqual([
    "touch left, kept by review",
    "video appeal by right: call kept, touch left",
  ]);
  expect(review({ by: "referee", result: "decided", award: "none" }, "pending")).toEqual([
    "waits for the video review, decided by review: no touch",
    "video review by the referee: decided, no touch",
  ]);
  expect(review({ by: "video-referee", result: "no picture" })).toEqual([
    "touch left, review without a picture",
    "video review by the video-referee: no picture, touch left",
  ]);
  expect(told({ kind: "review", at: "0:00:06.000", by: "level score", result: "kept" })[0]?.sentence).toBe(
    "video review at the deciding touch: no phrase before it",
  );
});

test("A red card is told with the touch it costs", () => {
  expect(
    told({ kind: "card", at: "0:00:01.000", to: "left", card: "yellow", for: "early start" })[0],
  ).toEqual({
    sentence: "yellow card, left (early start)",
    label: "yellow",
    side: "left",
  });
  expect(told({ kind: "card", at: "0:00:01.000", to: "left", card: "red" })[0]?.sentence).toBe(
    "red card, left: touch right",
  );
  expect(told({ kind: "card", at: "0:00:01.000", to: "both", card: "P-red" })[0]?.sentence).toBe(
    "P-red card, both: a touch each",
  );
});

test("A stop is told with its reasons, who asked and when it was over", () => {
  expect(
    told({
      kind: "stop",
      at: "0:00:01.000",
      until: "0:00:09.000",
      for: ["re-centre", "distance"],
      by: "left assistant",
    })[0],
  ).toEqual({
    sentence: "stop for re-centre and distance, asked for by the left assistant, until 0:00:09.000",
    label: "re-centre",
    side: null,
  });
  expect(told({ kind: "stop", at: "0:00:01.000", for: "medical", by: "right" })[0]).toEqual({
    sentence: "stop for medical, asked for by right, not over yet",
    label: "medical",
    side: "right",
  });
});

test("Every other kind of entry has its sentence", () => {
  const at = "0:00:01.000";
  const corners = [
    [0.1, 0.5],
    [0.2, 0.5],
  ];
  const points = [
    { image: [0, 0], floor: [0, 0] },
    { image: [1, 1], floor: [1, 0] },
  ];
  const rows = told(
    { kind: "opening", at, score: [3, 2], period: 2 },
    { kind: "shot", at, name: "replay" },
    { kind: "fit", at, points },
    { kind: "platforms", at, left: corners, right: corners },
    { kind: "platforms", at, right: corners },
    { kind: "distance", at, reference: "left", to: "inner elbow", change: -1 },
    { kind: "distance", at },
    { kind: "board", at, score: [3, 2], clock: "2:41" },
    { kind: "correction", at, score: [4, 2], for: "table had missed a touch" },
    { kind: "gap", at, score: [5, 2] },
    { kind: "period", at, number: 3 },
    { kind: "period", at, number: "extra" },
    { kind: "draw", at, to: "right" },
    { kind: "draw", at },
    { kind: "note", at, text: "takes a spare foil" },
    { kind: "note", at },
    { kind: "end", at, by: "time" },
  );
  expect(rows.map(({ sentence }) => sentence)).toEqual([
    "recording starts at 3:2, period 2",
    "picture: replay",
    "floor fitted with 2 points",
    "platforms placed: both",
    "platforms placed: right only",
    "distance set, arm of left, to the inner elbow, -1 notch",
    "distance set",
    "board shows 3:2, clock 2:41",
    "officials set the score to 4:2 (table had missed a touch)",
    "not recorded; 5:2 after it",
    "period 3 begins",
    "extra minute begins",
    "lots drawn: priority right",
    "lots drawn for priority",
    "takes a spare foil",
    "note, still empty",
    "end of the bout (time): Vessa Tarn (left) wins",
  ]);
  expect(rows.map(({ label }) => label)).toEqual([
    "3:2",
    "replay",
    "fit",
    "platforms",
    "platforms",
    "distance",
    "distance",
    "3:2",
    "4:2",
    "5:2",
    "period 3",
    "extra minute",
    "lots",
    "lots",
    "note",
    "note",
    "time",
  ]);
});
