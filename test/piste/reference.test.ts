import { describe, expect, test } from "vitest";
import { driftSummary, type FitPoint, type Step, toFloor } from "../../src/piste";
import { floorFitted } from "./measured";
import opencv from "./reference/homographies.json";
import r from "./reference/tests.json";

type Point = readonly [number, number];

function pair([x = NaN, y = NaN]: readonly number[]): Point {
  return [x, y];
}

describe("against OpenCV 4.6.0 (reference/homographies.py)", () => {
  test.each(opencv.cases.map((one, index) => [index + 1, one.floor.length, one] as const))(
    "camera %i, a fit of %i points puts points of the picture where OpenCV puts them",
    (_, count, { image, floor, probes, mapped }) => {
      const points = image.map((at, index): FitPoint => ({
        image: pair(at),
        floor: pair(floor[index] ?? []),
      }));
      const fit = floorFitted(points);
      probes.forEach((probe, index) => {
        const [x, y] = toFloor(fit, pair(probe)) ?? [NaN, NaN];
        const [u, v] = pair(mapped[index] ?? []);
        // Four points fit exactly. With six OpenCV minimises metres on the floor, which weighs the far points more.
        const close = count === 4 ? 1e-6 : 0.03;
        expect(Math.abs(x - u)).toBeLessThan(close);
        expect(Math.abs(y - v)).toBeLessThan(close);
      });
    },
  );
});

describe("against R 4.2.2 (reference/tests.R)", () => {
  test.each(r.cases.map((one, index) => [index + 1, one] as const))(
    "bout %i: sign, permutation and limits of the drift a phrase",
    (_, { along, phrases, first, permutation, sign, value, low, high }) => {
      const drift = driftSummary(
        along.map((metres, index): Step => {
          const count = phrases[index] ?? 0;
          const opener = index < first ? "left" : "right";
          return {
            from: index,
            to: index + 1,
            phrases: count,
            openers: { left: 0, right: 0, other: 0, [opener]: count },
            along: metres,
            across: null,
            turn: null,
            gap: null,
            twist: null,
            error: { along: 0.01, across: null, turn: null, gap: null, twist: null },
          };
        }),
        [],
      );
      expect(drift?.signTest.p).toBeCloseTo(sign, 12);
      expect(drift?.byOpener.p).toBeCloseTo(permutation, 12);
      expect(drift?.alongPerPhrase?.value).toBeCloseTo(value, 12);
      expect(drift?.alongPerPhrase?.low).toBeCloseTo(low, 12);
      expect(drift?.alongPerPhrase?.high).toBeCloseTo(high, 12);
    },
  );
});
