import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { driftSummary, type FloorPoint, moveBetween, type Pose, type Step } from "../../src/piste";
import { permutationTest, ratioInterval, tQuantile } from "../../src/statistics";
import { clicked, picturesOf, platformsAt, usualCamera } from "./camera";
import { fitted, posed } from "./measured";

type Openers = Step["openers"];
const byLeft = (phrases: number): Openers => ({ left: phrases, right: 0, other: 0 });
const byRight = (phrases: number): Openers => ({ left: 0, right: phrases, other: 0 });
const byOther = (phrases: number): Openers => ({ left: 0, right: 0, other: phrases });

function stepOf(along: number, openers: Openers, turn: number | null = along * 20): Step {
  const known = turn === null ? null : 0.01;
  return {
    from: 3,
    to: 9,
    phrases: openers.left + openers.right + openers.other,
    openers,
    along,
    across: known,
    turn,
    gap: known,
    twist: turn === null ? null : { left: 0.1, right: 0.9 },
    error: {
      along: 0.012,
      across: known,
      turn: known,
      gap: known,
      twist: turn === null ? null : { left: 0.2, right: 0.2 },
    },
  };
}

describe("towards which end the platforms drift", () => {
  test("is told by limits that lie on one side of 0", () => {
    const right = [0.04, 0.05, 0.06, 0.05].map((along) => stepOf(along, byLeft(1)));
    expect(driftSummary(right, [])).toMatchObject({ towards: "right" });
    expect(driftSummary(right, [])).not.toHaveProperty("note");
    const left = right.map((step) => ({ ...step, along: -step.along }));
    expect(driftSummary(left, [])).toMatchObject({ towards: "left" });
  });

  test("can't be told by limits that hold 0, and the note names them", () => {
    const steps = [-0.02, 0.05, 0.01].map((along) => stepOf(along, byLeft(1)));
    const drift = driftSummary(steps, []);
    expect(drift?.towards).toBeNull();
    const { low, high } = drift?.alongPerPhrase ?? { low: NaN, high: NaN };
    expect(low).toBeCloseTo(-0.0739, 4);
    expect(high).toBeCloseTo(0.1006, 4);
    expect(drift?.note).toBe(
      "the data can't tell: anything from 74 mm to the left to 101 mm to the right a phrase fits them",
    );
  });

  test("can't be told where nothing moved", () => {
    const drift = driftSummary(
      [0, 0, 0].map((along) => stepOf(along, byLeft(1))),
      [],
    );
    expect(drift).toMatchObject({
      towards: null,
      note: "the data can't tell: anything from no move to no move a phrase fits them",
      alongPerPhrase: { value: 0, low: 0, high: 0 },
    });
  });

  test("needs three steps with phrases", () => {
    const steps = [stepOf(0.05, byLeft(1)), stepOf(0.05, byLeft(2)), stepOf(0.05, byLeft(0))];
    expect(driftSummary(steps, [])).toMatchObject({
      towards: null,
      note: "3 steps with phrases are needed; there are 2",
      alongPerPhrase: null,
      turnPerPhrase: null,
    });
    expect(driftSummary(steps.slice(0, 1), [])?.note).toBe("3 steps with phrases are needed; there is 1");
    expect(driftSummary(steps.slice(2), [])?.note).toBe("3 steps with phrases are needed; there are 0");
  });
});

describe("the drift a phrase", () => {
  test("is total along over total phrases, with limits worked by hand", () => {
    // R = 0.12 / 6 = 0.02; along - R · phrases: 0.01, 0, -0.01; half-width t(2) · sqrt(3 / 2 · 0.0002) / 6.
    const steps = [stepOf(0.03, byLeft(1)), stepOf(0.04, byRight(2)), stepOf(0.05, byOther(3))];
    const { value, low, high } = driftSummary(steps, [])?.alongPerPhrase ?? {
      value: NaN,
      low: NaN,
      high: NaN,
    };
    const half = (tQuantile(0.975, 2) * Math.sqrt(1.5 * 0.0002)) / 6;
    expect(value).toBeCloseTo(0.02, 14);
    expect(low).toBeCloseTo(0.02 - half, 14);
    expect(high).toBeCloseTo(0.02 + half, 14);
  });

  test("leaves steps without phrases out", () => {
    const steps = [0.03, 0.05, 0.01].map((along) => stepOf(along, byLeft(2)));
    const more = [...steps, stepOf(0.7, byLeft(0))];
    expect(driftSummary(more, [])?.alongPerPhrase).toEqual(driftSummary(steps, [])?.alongPerPhrase);
    expect(driftSummary(more, [])?.byOpener).toEqual(driftSummary(steps, [])?.byOpener);
  });

  test("of turns takes the steps whose turn is known", () => {
    const turned = [1, 2, 4].map((turn) => stepOf(0.01, byLeft(2), turn));
    const drift = driftSummary([...turned, stepOf(0.01, byLeft(1), null)], []);
    expect(drift?.turnPerPhrase).toEqual(ratioInterval([1, 2, 4].map((amount) => ({ amount, exposure: 2 }))));
    expect(driftSummary([...turned.slice(1), stepOf(0.01, byLeft(1), null)], [])?.turnPerPhrase).toBeNull();
  });
});

test("the sign test counts all steps that moved: 14 to the right and 3 to the left give 0.0127", () => {
  // 2 · (1 + 17 + 136 + 680) / 2^17
  const steps = Array.from({ length: 18 }, (_, index) =>
    stepOf(index < 14 ? 0.01 : index < 17 ? -0.01 : 0, byLeft(index % 2)),
  );
  expect(driftSummary(steps, [])?.signTest).toEqual({
    right: 14,
    left: 3,
    p: expect.closeTo(1668 / 131072, 15) as number,
  });
});

describe("drift by the side that opened", () => {
  test("takes steps that one side opened throughout, and the rest together", () => {
    const steps = [
      stepOf(0.1, byLeft(2)),
      stepOf(0.3, byLeft(1)),
      stepOf(-0.1, byRight(1)),
      stepOf(0.02, { left: 1, right: 1, other: 0 }),
      stepOf(0.04, { left: 3, right: 0, other: 1 }),
    ];
    const by = driftSummary(steps, [])?.byOpener;
    expect(by?.left.phrases).toBe(3);
    expect(by?.left.perPhrase).toBeCloseTo(0.4 / 3, 14);
    expect(by?.right).toEqual({ phrases: 1, perPhrase: -0.1 });
    expect(by?.other.phrases).toBe(6);
    expect(by?.other.perPhrase).toBeCloseTo(0.01, 14);
    // Right's step among the three of one side: 0.4 / 3 + 0.1 as seen, 0.3 - 0 and 0.1 - 0.05 otherwise.
    expect(by?.p).toBeCloseTo(2 / 3, 14);
  });

  test("compares nobody with one side alone", () => {
    const steps = [stepOf(0.1, byLeft(2)), stepOf(0.3, byLeft(1)), stepOf(0.1, byOther(1))];
    expect(driftSummary(steps, [])?.byOpener).toMatchObject({
      right: { phrases: 0, perPhrase: null },
      p: null,
    });
  });

  test("permutes the left and right labels only", () => {
    const left = [0.02, 0.05, 0.04, 0.06].map((along) => stepOf(along, byLeft(1)));
    const right = [0.01, -0.02, 0.03].map((along) => stepOf(along, byRight(2)));
    const other = [0.5, -0.5].map((along) => stepOf(along, byOther(1)));
    const parts = (steps: readonly Step[]) =>
      steps.map(({ along, phrases }) => ({ amount: along, exposure: phrases }));
    expect(driftSummary([...left, ...other, ...right], [])?.byOpener.p).toBe(
      permutationTest(parts(left), parts(right)).p,
    );
  });
});

describe("the gap", () => {
  const marks: readonly FloorPoint[] = [
    [-2, -0.75],
    [2, -0.75],
    [2, 0.75],
    [-2, 0.75],
  ];
  const fit = fitted(clicked(usualCamera, marks));
  const apart = (gap: number): Pose =>
    posed(
      fit,
      picturesOf(
        usualCamera,
        platformsAt({ centre: [0, 0], direction: 0, gap, twist: { left: 0, right: 0 } }),
      ),
    );
  const scaled = posed(
    fitted([
      { image: [0.2, 0.8], floor: [-2, 0] },
      { image: [0.8, 0.8], floor: [2, 0] },
    ]),
    {
      left: [
        [0.4, 0.8],
        [0.3, 0.8],
      ],
      right: [
        [0.6, 0.8],
        [0.7, 0.8],
      ],
    },
  );
  const steps = [stepOf(0.1, byLeft(1))];

  test("is compared between the first and the last pose of the stretch, with the error of that change", () => {
    const [first, middle, last] = [apart(0.92), apart(0.7), apart(0.9)] as const;
    const gap = driftSummary(steps, [first, middle, last])?.gap;
    expect(gap?.first).toBeCloseTo(0.92, 9);
    expect(gap?.last).toBeCloseTo(0.9, 9);
    expect(gap?.change).toBeCloseTo(-0.02, 9);
    expect(gap?.error).toBe(moveBetween(first, last).error.gap);
  });

  test("has not changed yet while there is one pose, and is unknown without any", () => {
    const gap = driftSummary(steps, [apart(0.92)])?.gap;
    expect(gap).toMatchObject({ change: null, error: null });
    expect(gap?.first).toBe(gap?.last);
    expect(driftSummary(steps, [])?.gap).toBeNull();
  });

  test("is not known with a fit of two points", () => {
    expect(driftSummary(steps, [scaled, scaled])?.gap).toBeNull();
    expect(driftSummary(steps, [scaled, apart(0.92), apart(0.9), scaled])?.gap?.change).toBeCloseTo(-0.02, 9);
  });
});

describe("the drift of a bout", () => {
  test("is null without steps", () => {
    expect(driftSummary([], [])).toBeNull();
  });

  test("is printed with these fields", () => {
    const drift = driftSummary(
      [0.04, 0.05, 0.06].map((along) => stepOf(along, byLeft(1))),
      [],
    );
    expect(Object.keys(drift ?? {})).toEqual([
      "steps",
      "towards",
      "alongPerPhrase",
      "signTest",
      "byOpener",
      "turnPerPhrase",
      "twistPerPhrase",
      "gap",
    ]);
    expect(drift?.steps[0]).toEqual({
      from: 3,
      to: 9,
      phrases: 1,
      along: 0.04,
      across: 0.01,
      turn: 0.8,
      gap: 0.01,
      twist: { left: 0.1, right: 0.9 },
      error: { along: 0.012, across: 0.01, turn: 0.01, gap: 0.01, twist: { left: 0.2, right: 0.2 } },
    });
  });

  test("seen from the other end is the same drift turned round", () => {
    const count = fc.nat({ max: 3 });
    const step = fc
      .tuple(fc.integer({ min: -100, max: 100 }), fc.record({ left: count, right: count, other: count }))
      .map(([along, openers]) => stepOf(along / 1000, openers));
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), (steps) => {
        const here = driftSummary(steps, []);
        const there = driftSummary(
          steps.map((step) => {
            const { left, right, other } = step.openers;
            return { ...step, along: -step.along, openers: { left: right, right: left, other } };
          }),
          [],
        );
        if (here === null || there === null) throw new Error("no drift");
        expect(there.signTest).toEqual({
          right: here.signTest.left,
          left: here.signTest.right,
          p: here.signTest.p,
        });
        expect(there.byOpener.p).toBe(here.byOpener.p);
        const turned = { left: "right", right: "left" } as const;
        expect(there.towards).toBe(here.towards === null ? null : turned[here.towards]);
        expect(there.alongPerPhrase === null).toBe(here.alongPerPhrase === null);
        expect(there.alongPerPhrase?.low ?? 0).toBeCloseTo(-(here.alongPerPhrase?.high ?? 0), 12);
      }),
    );
  });

  test.each([
    { left: 1, right: 1, other: 1 },
    { left: 2, right: -1, other: 1 },
    { left: 1.5, right: 0.5, other: 0 },
    { left: NaN, right: 1, other: 1 },
  ])("is refused where openers $left, $right and $other are said to be of 2 phrases", (openers) => {
    expect(() => driftSummary([{ ...stepOf(0.1, byLeft(2)), openers }], [])).toThrow(RangeError);
  });
});
