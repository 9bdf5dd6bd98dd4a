import { describe, expect, test } from "vitest";
import {
  bothCorners,
  newFit,
  newPlatforms,
  nudged,
  placed,
  readiness,
  selecting,
  skipping,
  withFloor,
  withoutLast,
  type Placing,
} from "../../src/viewer/placing/points";
import { presetsOf, referenceNamed } from "../../src/viewer/placing/references";

const at = (x: number, y = 0.5) => ({ x, y });
const names = ["Tarn", "Odrey"] as const;

/** Four strips of tape as a camera shows them, and the middle of the near line. */
const seen = [at(0.1, 0.8), at(0.9, 0.8), at(0.25, 0.6), at(0.75, 0.6), at(0.5, 0.8)];

function fitOf(count: number, mirrored = false): Placing {
  return seen.slice(0, count).reduce<Placing>((placing, point) => placed(placing, point), newFit(mirrored));
}

describe("a fit", () => {
  test("is ready with two points, or four and more, and says what they give", () => {
    expect([0, 1, 2, 3, 4, 5].map((count) => readiness(withDifferentFloors(fitOf(count))).ready)).toEqual([
      false,
      false,
      true,
      false,
      true,
      true,
    ]);
    expect(readiness(fitOf(2)).words).toMatch(/scale along the piste only/);
    expect(readiness(fitOf(4)).words).toMatch(/whole floor/);
  });

  test("names the strips of tape in turn, as the camera sees them", () => {
    expect(readiness(fitOf(0)).words).toMatch(/left tape, near end/);
    expect(presetsOf(referenceNamed("tape strips"), false)[0]?.floor).toEqual([-2, -1]);
    // From the other side left is the right end, and near is the apparatus's side.
    expect(presetsOf(referenceNamed("tape strips"), true)[0]?.floor).toEqual([2, 1]);
  });

  test("two points at one place along the piste give no scale", () => {
    expect(readiness(withFloor(fitOf(2), 1, [-2, 1])).ready).toBe(false);
    expect(readiness(withFloor(fitOf(4), 3, [-2, -1])).words).toMatch(/same place/);
  });

  test("the marked point moves by a pixel and stays in the picture", () => {
    const placing = nudged(selecting(fitOf(2), 0), -1 / 1280, 1 / 720);
    expect(placing.what === "fit" && placing.points[0]?.image).toEqual({
      x: 0.1 - 1 / 1280,
      y: 0.8 + 1 / 720,
    });
  });

  test("the last point can be taken back", () => {
    expect(withoutLast(fitOf(3))).toMatchObject({ selected: 1 });
    expect(withoutLast(fitOf(0))).toMatchObject({ points: [] });
  });
});

describe("the platforms", () => {
  const place = (...xs: readonly number[]): Placing =>
    xs.reduce<Placing>((placing, x) => placed(placing, at(x)), newPlatforms(names));

  test("ask for the left fencer's inner corner first, then outer, then the right one's", () => {
    expect(readiness(place()).words).toMatch(/inner corner of the near edge of Tarn's/);
    expect(readiness(place(0.4)).words).toMatch(/outer corner of the near edge of Tarn's/);
    expect(readiness(place(0.4, 0.3)).words).toMatch(/inner corner of the near edge of Odrey's/);
    const all = place(0.4, 0.3, 0.6, 0.7);
    expect(readiness(all).ready).toBe(true);
    expect(all.what === "platforms" && bothCorners(all, "left")).toEqual([
      [0.4, 0.5],
      [0.3, 0.5],
    ]);
  });

  test("one side may be left out, half a side may not be kept", () => {
    expect(readiness(place(0.4)).ready).toBe(false);
    expect(readiness(place(0.4, 0.3, 0.6)).ready).toBe(false);
    const right = [0.6, 0.7].reduce<Placing>(
      (placing, x) => placed(placing, at(x)),
      skipping(newPlatforms(names), "left"),
    );
    expect(readiness(right).ready).toBe(true);
    expect(right.what === "platforms" && bothCorners(right, "left")).toBeUndefined();
    expect(right.what === "platforms" && bothCorners(right, "right")).toEqual([
      [0.6, 0.5],
      [0.7, 0.5],
    ]);
  });

  test("with all corners there a press moves the marked one", () => {
    const placing = placed(selecting(place(0.4, 0.3, 0.6, 0.7), 1), at(0.25));
    expect(placing.what === "platforms" && placing.points["left outer"]).toEqual(at(0.25));
  });
});

/** Five points need a fifth place on the floor. */
function withDifferentFloors(placing: Placing): Placing {
  return placing.what === "fit" && placing.points.length > 4 ? withFloor(placing, 4, [0, -1]) : placing;
}
