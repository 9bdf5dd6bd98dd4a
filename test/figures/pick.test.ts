// A pick picks what a plain look at the written entries picks, whatever the log.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  entryOf,
  noPicks,
  pickActions,
  pickedPhrases,
  pickFamilies,
  pickInWords,
  pickSchema,
  picksFileOf,
  picksText,
  readPicks,
  withoutPick,
  withPick,
  writtenEvidenceOf,
  type Pick,
} from "../../src/figures";
import { cardColours, stopReasons } from "../../src/bout/words";
import { anyLedger, type WrittenLedger } from "../rules/any-ledger";
import { at, ledgerOf, phrase } from "../rules/bouts";

type Written = WrittenLedger["written"][number];

/** The closed phrases before an end, as written, with the entries between each and the next. */
function plainPhrases({ written, ledger }: WrittenLedger) {
  const step = (ledger.bout.log[1]?.index ?? 1) - (ledger.bout.log[0]?.index ?? 0);
  const ended = written.findIndex(({ kind }) => kind === "end");
  return written.flatMap((entry, index) => {
    if (entry["kind"] !== "phrase" || entry["halt"] === undefined) return [];
    if (ended !== -1 && ended < index) return [];
    const rest = written.slice(index + 1);
    const next = rest.findIndex(({ kind }) => kind === "phrase");
    const number = written.slice(0, index + 1).filter(({ kind }) => kind === "phrase").length;
    return [{ place: index * step, entry, number, after: next === -1 ? rest : rest.slice(0, next) }];
  });
}
type Plain = ReturnType<typeof plainPhrases>[number];

const actionsOf = (entry: Written) => (entry["actions"] ?? []) as readonly string[];
const familyWords: Readonly<Record<string, readonly string[]>> = {
  attack: ["attack", "compound attack", "counter-time"],
  riposte: ["riposte", "counter-riposte"],
  "counter-attack": ["counter-attack", "stop hit"],
  renewal: ["remise", "redoublement", "reprise"],
  line: ["point in line", "derobement"],
};
const used = (entry: Written, wanted: string, names: (what: string) => readonly string[]) => {
  const [, doer, what = ""] = /^(?:(left|right|both) )?(.*)$/.exec(wanted) ?? [];
  const doers = doer === undefined ? ["left", "right", "both"] : [doer, "both"];
  return doers.some((one) => names(what).some((name) => actionsOf(entry).includes(`${one} ${name}`)));
};

function agrees(pick: Pick, plainly: (phrase: Plain) => boolean, runs = 60) {
  fc.assert(
    fc.property(anyLedger, (any) => {
      const wanted = plainPhrases(any).filter(plainly);
      expect(pickedPhrases(any.ledger, pick).entries).toEqual(wanted.map(({ place }) => place));
    }),
    { numRuns: runs },
  );
}

describe("for any log", () => {
  test("the pick of everything is every closed phrase", () => agrees({}, () => true, 300));

  test("an action is picked wherever it is written, whoever did it", () => {
    for (const word of pickActions.filter((one) => !/^o/.test(one)))
      agrees({ actions: word }, ({ entry }) => used(entry, word, (what) => [what]), 8);
  });

  test("so is a family", () => {
    for (const word of pickFamilies.filter((one) => !/^o/.test(one)))
      agrees({ families: [word] }, ({ entry }) => used(entry, word, (what) => familyWords[what] ?? []), 20);
  });

  test("stars, doubts, targets and words of one's own", () => {
    agrees({ star: true }, ({ entry }) => entry["star"] === true);
    agrees({ star: false }, ({ entry }) => entry["star"] !== true);
    agrees({ unsure: true }, ({ entry }) => entry["sure"] === false);
  });

  test("a card or a stop between the phrase and the next", () => {
    for (const card of cardColours)
      agrees(
        { card },
        ({ after }) => after.some((one) => one["kind"] === "card" && one["card"] === card),
        20,
      );
    agrees({ card: "any" }, ({ after }) => after.some(({ kind }) => kind === "card"));
    agrees({ cardTo: "left" }, ({ after }) =>
      after.some((one) => one["kind"] === "card" && ["left", "both"].includes(String(one["to"]))),
    );
    for (const stop of stopReasons)
      agrees(
        { stop },
        ({ after }) => after.some((one) => one["kind"] === "stop" && [one["for"]].flat().includes(stop)),
        20,
      );
  });

  test("both lamps, and lamps not recorded are neither", () => {
    const lit = (entry: Written, side: string) =>
      [(entry["lamps"] as Written | undefined)?.[side]].flat().includes("valid");
    agrees({ bothLamps: true }, ({ entry }) => lit(entry, "left") && lit(entry, "right"));
    agrees(
      { bothLamps: false },
      ({ entry }) => entry["lamps"] !== undefined && !(lit(entry, "left") && lit(entry, "right")),
    );
  });

  test("numbers of phrases", () =>
    agrees({ numbers: [1, "3-5"] }, ({ number }) => number === 1 || (number >= 3 && number <= 5)));

  test("several parts narrow each other", () =>
    agrees(
      { star: true, actions: ["attack", "riposte"] },
      ({ entry }) =>
        entry["star"] === true && ["attack", "riposte"].some((word) => used(entry, word, (what) => [what])),
    ));

  test("every entry is found again by its evidence", () => {
    fc.assert(
      fc.property(anyLedger, ({ ledger }) => {
        for (const { record } of ledger.rows) {
          const evidence = writtenEvidenceOf(ledger, record.index);
          expect(evidence && entryOf(ledger, evidence)).toBe(record.index);
        }
      }),
      { numRuns: 60 },
    );
  });
});

const fencers = { left: { id: "tarn", name: "Vessa Tarn" }, right: { name: "Kel Odrey" } };
const bout = ledgerOf(
  {},
  [
    phrase("0:10", "0:12", {
      actions: ["left attack", "right parry", "right riposte"],
      award: "right",
      target: "Flank",
    }),
    { kind: "review", at: at("0:14"), by: "left", result: "changed", award: "left" },
    phrase("0:20", "0:22", { actions: ["right attack"], award: "pending", tags: ["flick"] }),
    { kind: "review", at: at("0:24"), by: "right", result: "no picture", award: "none" },
    phrase("0:30", "0:32", { actions: ["both attack"], award: "none", because: "simultaneous" }),
    phrase("0:40", "0:42", { award: "left" }),
    { kind: "period", at: at("1:00"), number: 2 },
    phrase("1:10", "1:12", { actions: ["left attack"] }),
  ],
  fencers,
);

describe("in a bout", () => {
  test.each<[string, Pick, number[]]>([
    ["what scored in the end, after its review", { scored: "left attack" }, [0]],
    ["what scored, by whoever", { scored: ["untagged", "attack"] }, [0, 5]],
    ["the family that scored", { scoredFamilies: "attack" }, [0]],
    ["what stands", { award: "left" }, [0, 5]],
    ["what is not decided", { award: "waiting" }, [7]],
    ["no touch", { award: ["none"] }, [2, 4]],
    ["who opened", { opener: ["right", "both"] }, [2, 4]],
    ["nothing tagged", { opener: "untagged" }, [5]],
    ["a fencer by id", { fencer: "tarn", award: "own" }, [0, 5]],
    ["a fencer by name", { fencer: "Kel Odrey", actions: "own riposte" }, [0]],
    ["as the opponent of a fencer", { fencer: "Kel Odrey", opener: "opponent" }, [0, 7]],
    ["nobody of that name", { fencer: "Mira Sund" }, []],
    ["a review changed by left", { review: "changed", reviewBy: "left" }, [0]],
    ["one review must fit both", { review: "changed", reviewBy: "right" }, []],
    ["no review", { review: "none" }, [4, 5, 7]],
    ["a target, whatever its capitals", { targets: "flank" }, [0]],
    ["a word of one's own", { tags: ["flick"] }, [2]],
    ["a period", { periods: 2 }, [7]],
    ["by hand", { phrases: [{ kind: "phrase", at: at("0:40") }] }, [5]],
  ])("%s", (_, pick, entries) => {
    expect(pickSchema.parse(pick)).toEqual(pick);
    expect(pickedPhrases(bout, pick)).toEqual({ entries, lost: [] });
  });

  test("a phrase picked by hand that is gone is lost, never the nearest", () => {
    const gone = { kind: "phrase", at: at("0:40.040"), nth: 0 } as const;
    const second = { kind: "phrase", at: at("0:40"), nth: 1 } as const;
    expect(pickedPhrases(bout, { phrases: [gone, second] })).toEqual({ entries: [], lost: [gone, second] });
  });

  test("own and opponent need a fencer, and an unknown part is refused", () => {
    expect(pickSchema.safeParse({ award: "own" }).success).toBe(false);
    expect(pickSchema.safeParse({ colour: "blue" }).success).toBe(false);
    expect(pickSchema.safeParse({ numbers: "7-3" }).success).toBe(false);
    expect(pickSchema.safeParse({ tags: "own goal" }).success).toBe(true);
  });

  test("a pick is told in words", () => {
    expect(pickInWords({})).toBe("every phrase");
    expect(pickInWords({ actions: ["riposte", "counter-riposte"], award: "right", bothLamps: true })).toBe(
      "riposte or counter-riposte, touch right, both lamps",
    );
  });
});

describe("saved picks", () => {
  const file = withPick(noPicks, { name: "late ripostes", pick: { actions: "riposte", periods: [2, 3] } });
  test("come back as they were written", () => {
    expect(readPicks(picksText(file))).toEqual({ ok: true, value: file });
    expect(readPicks(picksText(noPicks))).toEqual({ ok: true, value: noPicks });
    expect(picksFileOf("a/harbour.bout.json")).toBe("a/harbour.picks.json");
  });
  test("one of the same name takes the other's place, and can be taken out", () => {
    const changed = withPick(file, { name: "late ripostes", pick: { star: true } });
    expect(changed.saved).toEqual([{ name: "late ripostes", pick: { star: true } }]);
    expect(withoutPick(changed, "late ripostes")).toEqual(noPicks);
  });
  test.each([
    ["no JSON", "{", "no JSON"],
    ["another format", '{"picks": 2, "saved": []}', "picks"],
    ["a part that is none", '{"picks": 1, "saved": [{"name": "a", "pick": {"colour": 1}}]}', "colour"],
    ["one name twice", '{"picks":1,"saved":[{"name":"a","pick":{}},{"name":"a","pick":{}}]}', "two picks"],
  ])("%s is refused with a reason", (_, text, said) => {
    expect(readPicks(text)).toMatchObject({ ok: false, problem: expect.stringContaining(said) as string });
  });
});
