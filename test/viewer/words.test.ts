import { describe, expect, test } from "vitest";
import { commandById, commands } from "../../src/messages/commands";
import { KeyNames, keycap, keyName } from "../../src/viewer/key-names";
import { ledgerWords, minutes, shortName } from "../../src/viewer/ledger-line";
import { commonKeys, doneWords, fencerOn, moreKeys, padHalf } from "../../src/viewer/pad-plan";
import { callApart, nextKeys, stateWords } from "../../src/viewer/sentence";
import { typedTime } from "../../src/viewer/typed-time";
import { head, item, phrase, standing } from "./scenes";

function command(id: string) {
  const found = commandById(id);
  if (found === undefined) throw new Error(`no command ${id}`);
  return found;
}

describe("the ledger line", () => {
  test("tells score, appeals, cards with their cost, period and fencing time", () => {
    const words = ledgerWords(head, {
      ...standing,
      score: [6, 7],
      appeals: [2, 1],
      cards: [[], ["yellow"]],
      cost: ["", "red card, a touch"],
      fenced: 72_400,
    });
    expect(words.fencers.map(({ name, score }) => `${name} ${score}`)).toEqual([
      "Vessa Tarn 6",
      "Kel Odrey 7",
    ]);
    expect(words.parts).toEqual([
      "appeals 2 and 1",
      "Odrey holds yellow; next group 1 offence: red card and a touch",
      "period 1, 1:12 fenced",
    ]);
  });

  test("goes by the screen where the camera stands opposite the referee", () => {
    const words = ledgerWords({ ...head, mirrored: true }, { ...standing, score: [6, 7], appeals: [2, 1] });
    expect(words.fencers.map(({ score }) => score)).toEqual([7, 6]);
    expect(words.parts[0]).toBe("appeals 1 and 2");
  });

  test("leaves appeals out where no video is in use", () => {
    expect(ledgerWords(head, { ...standing, appeals: [null, null], period: "extra" }).parts).toEqual([
      "extra minute, 0:00 fenced",
    ]);
    expect(minutes(605_000)).toBe("10:05");
    expect(shortName("Kel van Odrey ")).toBe("Odrey");
  });
});

describe("the call pad", () => {
  test("has a button for every command of the table that asks for one", () => {
    for (const half of ["left", "right"] as const) {
      const wanted = commands.filter(({ pad }) => pad?.half === half).map(({ id }) => id);
      const shown = padHalf(half).flatMap((group) => group.commands.map(({ id }) => id));
      expect(shown.toSorted()).toEqual(wanted.toSorted());
    }
  });

  test("every tagging command can be reached by a press, save the same action by both", () => {
    const reached = new Set([
      ...commands.filter(({ pad }) => pad !== undefined).map(({ id }) => id),
      ...[...commonKeys, ...moreKeys].map((one) => one.command.id),
    ]);
    const missing = commands
      .filter(({ does, id }) => "tag" in does && does.tag.do !== "action" && !reached.has(id))
      .map(({ id }) => id);
    expect(missing).toEqual([]);
  });

  test("shows what the phrase in hand holds, refined actions by their own name", () => {
    const one = phrase(0, 0, 1000, {
      actions: ["left attack", "left compound attack", "right parry"],
      lamps: { left: ["valid"], right: [] },
      fields: { award: "left" },
    });
    expect(doneWords(command("boutline.attack.left"), one, false)).toBe("compound attack");
    expect(doneWords(command("boutline.parry.right"), one, false)).toBe("parry");
    expect(doneWords(command("boutline.riposte.right"), one, false)).toBeUndefined();
    expect(doneWords(command("boutline.valid.left"), one, false)).toBe("");
    expect(doneWords(command("boutline.bothValid"), one, false)).toBeUndefined();
    expect(doneWords(command("boutline.touch.left"), one, false)).toBe("");
  });

  test("the left hand's buttons are those of the fencer on the left of the screen", () => {
    const one = phrase(0, 0, 1000, { actions: ["right attack"], fields: { award: "right" } });
    expect(doneWords(command("boutline.attack.left"), one, true)).toBe("attack");
    expect(doneWords(command("boutline.touch.right"), one, true)).toBeUndefined();
    expect(fencerOn("left", true)).toBe("right");
  });
});

describe("the call sentence", () => {
  const first = (...args: Parameters<typeof nextKeys>) => nextKeys(...args)[0]?.does;

  test("an open phrase waits for actions and halt, a halted one for its call, a called one for the next", () => {
    const open = phrase(0, 0, null, { state: "open" });
    const waiting = phrase(0, 0, 1000, { state: "waiting" });
    const called = phrase(0, 0, 1000);
    expect(first(undefined, undefined)).toBe("begins a phrase");
    expect(nextKeys(open, open).map(({ does }) => does)).toEqual(["attack", "parry", "lamp", "halt"]);
    expect(first(waiting, waiting)).toBe("touch");
    expect(first(called, called)).toBe("begins a phrase");
    expect([open, waiting, called].map(stateWords)).toEqual(["open", "waiting for its call", "called"]);
  });

  test("take back is offered only where there is an action", () => {
    const acted = phrase(0, 0, null, { state: "open", actions: ["left attack"] });
    expect(nextKeys(acted, acted).some(({ does }) => does === "takes back")).toBe(true);
  });

  test("a pending phrase waits for the review, a review for the touch that stands", () => {
    const pending = phrase(0, 0, 1000, { state: "waiting", fields: { award: "pending" } });
    expect(stateWords(pending)).toBe("waiting for the review");
    expect(first(pending, pending)).toBe("appeal");
    expect(first(item(1, 2000, { kind: "review" }), pending)).toBe("the touch that stands");
    expect(first(item(1, 2000, { kind: "stop" }), pending)).toBe("the stop is over");
  });

  test("every key it names is a command", () => {
    const shown = [
      phrase(0, 0, null, { state: "open" }),
      phrase(0, 0, 1, { state: "waiting" }),
      phrase(0, 0, 1),
    ];
    for (const hint of shown.flatMap((one) => nextKeys(one, one)))
      for (const id of hint.commands) expect(commandById(id)).toBeDefined();
    for (const side of ["left", "right", "both"] as const)
      for (const hint of nextKeys(item(1, 5, { kind: "card", side }), shown[2]))
        for (const id of hint.commands) expect(commandById(id)).toBeDefined();
  });

  test("sets the call apart from what was seen", () => {
    expect(callApart("left attack, right parry; right lamp: touch right")).toEqual([
      "left attack, right parry; right lamp: ",
      "touch right",
    ]);
    expect(callApart("takes a spare foil")).toEqual(["takes a spare foil", ""]);
  });
});

describe("key names", () => {
  test("show the letter of the user's own keyboard by position", () => {
    expect(keycap("KeyA", new Map([["KeyA", "q"]]))).toBe("Q");
    expect(keycap("Digit1", new Map([["Digit1", "&"]]))).toBe("1");
    expect(keyName({ code: "ArrowLeft", alt: true, shift: true }, new Map())).toBe("Alt Shift ←");
  });

  test("a letter learned from a press is used; a key the user bound wins", () => {
    const names = new KeyNames();
    const attack = command("boutline.attack.left");
    expect(names.of(attack)).toBe("F");
    expect(names.learn("KeyF", "u")).toBe(true);
    expect(names.learn("KeyF", "u")).toBe(false);
    expect(names.learn("Enter", "Enter")).toBe(false);
    expect(names.of(attack)).toBe("U");
    names.bind({ "boutline.attack.left": "F" });
    expect(names.of(attack)).toBe("U");
    names.bind({ "boutline.attack.left": "Ctrl+J" });
    expect(names.of(attack)).toBe("Ctrl+J");
    expect(names.of(command("boutline.period"))).toBe("");
  });
});

describe("a typed time", () => {
  test("is understood with and without hours, minutes and fractions", () => {
    expect(typedTime("0:04:12.480")).toBe(252_480);
    expect(typedTime("4:12,5")).toBe(252_500);
    expect(typedTime(" 252 ")).toBe(252_000);
    expect(typedTime("1:00:00")).toBe(3_600_000);
  });

  test("is refused where it can't be one", () => {
    for (const text of ["", "soon", "4:75", "1:75:00", "-3", "1:2:3:4", "99999999999999999"])
      expect(typedTime(text)).toBeUndefined();
  });
});
