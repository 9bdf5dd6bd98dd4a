import { expect, test } from "vitest";
import { asMarkdown, hoverText } from "../../src/host/hover-text";
import { boutText, phrase, second, studied } from "./bouts";

function hovers(log: readonly object[], about: object = {}): readonly (readonly string[])[] {
  const { ledger } = studied(boutText(log, about)).study;
  return ledger.rows.map((row) => hoverText(row, ledger));
}

test("On hovering, a phrase tells the score before and after it, cards, appeals and fencing time", () => {
  const log = [
    phrase(1, 13, { actions: ["left attack"], lamps: { left: "valid" }, award: "left" }),
    { kind: "card", at: second(14), to: "right", card: "yellow", for: "early start" },
    { kind: "review", at: second(14), by: "left", result: "kept" },
    { ...phrase(15, 16, { award: "right" }), halt: "0:00:15.480" },
  ];
  expect(hovers(log)[3]).toEqual([
    "Phrase 2: touch right",
    "Score 1:0 before, 1:1 after",
    "Vessa Tarn (left): no card; the next offence of group 1 costs a yellow card; 1 appeal left",
    "Kel Odrey (right): 1 yellow card; the next offence of group 1 costs a red card and a touch; 2 appeals left",
    "Period 1: 0:12.5 of 3:00 fenced",
  ]);
});

test("A second period tells the fencing time of the whole bout too", () => {
  const log = [
    phrase(1, 11, { award: "none" }),
    { kind: "period", at: second(20), number: 2 },
    phrase(21, 22),
  ];
  expect(hovers(log)[2]).toContain("Period 2: 0:01 of 3:00 fenced, 0:11 in the whole bout");
});

test("Without video refereeing nothing is said of appeals, in training nothing of a limit", () => {
  const [hover = []] = hovers([phrase(1, 3)], { video: false, format: "training" });
  expect(hover.join(" ")).not.toMatch(/appeal/);
  expect(hover.at(-1)).toBe("Period 1: 0:02 fenced");
});

test("An entry that leaves the score alone says so", () => {
  expect(hovers([{ kind: "note", at: second(1), text: "a spare foil" }])[0]?.slice(0, 2)).toEqual([
    "A spare foil",
    "Score 0:0, unchanged",
  ]);
});

test("Names and notes show as the characters they are, never as a link, a picture or HTML", () => {
  const hostile =
    "<b>[x](command:y) ![i](https://z.invalid/a.png) $(zap) www.z.invalid\n# h\r\n* l `c` a@b.cc &lt;";
  const markdown = asMarkdown([hostile]);
  expect(markdown.replace(/\\([!-/:-@[-`{-~])/g, "")).not.toMatch(/[!-/:-@[-`{-~\n\r]/);
  expect(markdown.replaceAll("\\", "")).toBe(hostile.replace(/\s/g, " "));
  expect(asMarkdown(["one", "two"])).toBe("one\n\ntwo");
});
