import { describe, expect, test } from "vitest";
import { classAgreementOf } from "../../src/figures/class-agreement";
import { answer, classOfTwelve, clip, idOf, keyOf, sitting } from "./seminar-class";

const yellow = { to: "left", card: "yellow", group: 1 } as const;
const red = { to: "left", card: "red", group: 1 } as const;

describe("a class of readers", () => {
  test("gets Cohen's kappa of 0.4 where 20, 5, 10 and 15 calls fall as in the table of 50", () => {
    const cells = [
      [20, "left", "left"],
      [5, "left", "right"],
      [10, "right", "left"],
      [15, "right", "right"],
    ] as const;
    const pairs = cells.flatMap(([count, reference, said]) =>
      Array.from({ length: count }, () => ({ reference, said })),
    );
    const found = classAgreementOf(
      keyOf(pairs.map(({ reference }, place) => clip(place, answer(reference)))),
      [
        sitting(
          "Ash",
          pairs.map(({ said }) => answer(said)),
        ),
      ],
    );
    const [ash] = found.sittings;
    expect(ash?.call.kappa.value).toBeCloseTo(0.4, 12);
    expect(ash?.call.rate).toMatchObject({ count: 35, of: 50 });
    expect(ash?.passed).toBe(true);
  });

  test("is told the offence apart from the card", () => {
    const key = keyOf([clip(0, answer("none", { card: yellow })), clip(1, answer("left", { card: "none" }))]);
    const found = classAgreementOf(key, [
      sitting("Ash", [answer("none", { card: red }), answer("left", { card: "none" })]),
    ]);
    expect(found.sittings[0]?.parts).toMatchObject({
      offence: { rate: { count: 2, of: 2 } },
      card: { rate: { count: 1, of: 2 } },
    });
  });

  test("earns half a hit, and actions named in order as a share of the longer list", () => {
    const reference = answer("left", {
      hit: { left: "valid", right: "none" },
      actions: ["right attack", "left parry", "left riposte"],
    });
    const said = answer("left", {
      hit: { left: "valid", right: "valid" },
      actions: ["right attack", "left riposte"],
    });
    const found = classAgreementOf(keyOf([clip(0, reference)]), [sitting("Ash", [said])]);
    expect(found.sittings[0]?.marks.earned).toBeCloseTo(1 + 0.5 + 2 / 3, 12);
    expect(found.sittings[0]?.marks.of).toBe(3);
    expect(found.confusions).toEqual([]);
  });

  test("earns nothing for clips for discussion and repeats, which count for agreement and steadiness alone", () => {
    const key = keyOf([
      clip(0, answer("left")),
      clip(1, null),
      clip(2, answer("left"), { repeats: idOf(0) }),
    ]);
    const found = classAgreementOf(key, [
      sitting("Ash", [answer("left"), answer("left"), answer("right")]),
      sitting("Birch", [answer("left"), answer("right"), null]),
    ]);
    expect(found.sittings.map(({ marks }) => marks.of)).toEqual([1, 1]);
    expect(found.sittings.map(({ repeats }) => [repeats.count, repeats.of])).toEqual([
      [0, 1],
      [0, 0],
    ]);
    const award = found.together.find(({ part }) => part === "award");
    expect(award?.clips).toEqual([idOf(0), idOf(1)]);
    expect(award?.split).toEqual([idOf(1)]);
    expect(found.clips.at(-1)).toMatchObject({ clip: idOf(1), right: null });
  });

  test("leaves a missing answer out of percentages and of Fleiss' kappa, not of the marks or of alpha", () => {
    const key = keyOf([clip(0, answer("left")), clip(1, answer("right"))]);
    const found = classAgreementOf(key, [
      sitting("Ash", [answer("left"), null]),
      sitting("Birch", [answer("left"), answer("right")]),
      sitting("Cedar", [answer("left"), answer("right")]),
    ]);
    expect(found.sittings[0]).toMatchObject({
      marks: { earned: 1, of: 2 },
      call: { rate: { count: 1, of: 1 } },
    });
    const award = found.together.find(({ part }) => part === "award");
    expect(award?.fleiss?.cases).toBe(1);
    expect(award?.alpha).toMatchObject({ cases: 2, value: 1 });
  });

  test("is compared as live and at the monitor by the same reader's same clips", () => {
    const { key, answers } = classOfTwelve();
    const { ways, readers, sittings, sureness, clips } = classAgreementOf(key, answers);
    expect([readers, sittings.length, clips.length]).toEqual([12, 13, 12]);
    expect(ways?.live.of).toBe(ways?.monitor.of);
    expect(ways?.difference.value).toBeCloseTo((ways?.live.value ?? 0) - (ways?.monitor.value ?? 0), 12);
    const called = sittings.reduce((sum, { call }) => sum + call.rate.of, 0);
    expect(sureness.reduce((sum, { rate }) => sum + rate.of, 0)).toBe(called);
  });
});
