import { describe, expect, test } from "vitest";
import { fitNow } from "../../src/viewer/placing/fit-words";
import {
  fitAt,
  lastPlatforms,
  nextPlaceToMark,
  placesToMark,
  shotAt,
} from "../../src/viewer/placing/in-force";
import {
  again,
  bothCorners,
  newFit,
  newPlatforms,
  placed,
  readiness,
  withReference,
  type Placing,
} from "../../src/viewer/placing/points";
import { presetsOf, referenceNamed, referenceNames } from "../../src/viewer/placing/references";
import { clicked, usualCamera } from "../piste/camera";
import { head, item, phrase } from "./scenes";

const tapes = presetsOf(referenceNamed("tape strips"), false).map(({ floor }) => floor);

describe("known points of the floor", () => {
  test("are four corners around the centre, of sizes that can be changed", () => {
    for (const name of referenceNames) {
      const floors = presetsOf({ name, along: 3, across: 1 }, false).map(({ floor }) => floor);
      expect(floors).toEqual([
        [-1.5, -0.5],
        [1.5, -0.5],
        [-1.5, 0.5],
        [1.5, 0.5],
      ]);
    }
  });

  test("of another size give the points placed on them their new places", () => {
    const placing = [0.1, 0.9].reduce<Placing>((so, x) => placed(so, { x, y: 0.8 }), newFit(false));
    const changed = withReference(placing, { name: "mat joints", along: 3, across: 1 });
    expect(changed.what === "fit" && changed.points.map(({ floor }) => floor)).toEqual([
      [-1.5, -0.5],
      [1.5, -0.5],
    ]);
  });
});

describe("before anything is marked, the panel says what the camera can tell", () => {
  test("in centimetres and degrees", () => {
    const now = fitNow(clicked(usualCamera, tapes));
    expect(now.fit).toBeDefined();
    expect(now.fit !== undefined && now.words).toMatch(
      /^One move shows to within ± \d\.\d cm along, ± \d\.\d cm across, ± \d\.\d° of turn and ± \d\.\d cm of gap/,
    );
  });

  test.each([
    ["on one line", [-2, -1, 1, 2].map((x) => [x, 0] as const), /one line/],
    [
      "in one small patch",
      [
        [0, 0],
        [0.05, 0],
        [0, 0.05],
        [0.05, 0.05],
      ] as const,
      /too close together/,
    ],
  ])("and refuses points %s", (_, floor, reason) => {
    const now = fitNow(clicked(usualCamera, floor));
    expect(now.fit === undefined && now.problem).toMatch(reason);
  });

  test("and refuses points seen as in a mirror", () => {
    const now = fitNow(
      clicked(usualCamera, tapes).map(({ floor: [x, y], image }) => ({ floor: [-x, y], image })),
    );
    expect(now.fit === undefined && now.problem).toMatch(/mirror/);
  });
});

describe("platforms placed in several frames", () => {
  const place = (placing: Placing, ...xs: readonly number[]): Placing =>
    xs.reduce<Placing>((so, x) => placed(so, { x, y: 0.5 }), placing);
  const once = place(newPlatforms(["Tarn", "Odrey"]), 0.4, 0.3, 0.6, 0.7);

  test("are kept as the mean", () => {
    const twice = place(again(once), 0.42, 0.32, 0.62, 0.72);
    expect(readiness(twice).words).toMatch(/mean of 2 frames/);
    const left = twice.what === "platforms" ? bothCorners(twice, "left") : undefined;
    expect(left?.[0][0]).toBeCloseTo(0.41, 12);
    expect(left?.[1][0]).toBeCloseTo(0.31, 12);
  });

  test("are not kept while one frame is half done", () => {
    expect(readiness(place(again(once), 0.42)).ready).toBe(false);
    expect(readiness(again(once)).ready).toBe(true);
  });
});

describe("at a frame", () => {
  const points = clicked(usualCamera, tapes).map(({ image, floor }) => ({
    image: [image[0], image[1]] as [number, number],
    floor: [floor[0], floor[1]] as [number, number],
  }));
  const scene = {
    version: 1,
    head: {
      ...head,
      fits: [{ at: 100, shot: "main", points }],
      poses: [
        {
          at: 200,
          side: "left" as const,
          points: [[0.4, 0.5] as [number, number], [0.3, 0.5] as [number, number]],
        },
      ],
    },
    items: [
      item(0, 5000, { kind: "shot", fields: { name: "close" } }),
      item(1, 9000, { kind: "shot", fields: { name: "main" } }),
    ],
  };

  test("the fit of the shot on screen holds, also after a cut away and back", () => {
    expect(shotAt(scene.items, 6000)).toBe("close");
    expect(fitAt(scene, 50)).toBeUndefined();
    expect(fitAt(scene, 1000)?.kind).toBe("floor");
    expect(fitAt(scene, 6000)).toBeUndefined();
    expect(fitAt(scene, 9500)?.kind).toBe("floor");
  });

  test("the place marked last shows, in the same shot only", () => {
    expect(lastPlatforms(scene, 9500)).toHaveLength(1);
    expect(lastPlatforms(scene, 6000)).toEqual([]);
  });

  test("the next place to mark is the last still frame before a command, or before a re-centre", () => {
    const items = [
      phrase(0, 10_000, 12_000),
      item(1, 15_000, { kind: "platforms" }),
      phrase(2, 20_000, 22_000),
      item(3, 25_000, { kind: "stop", until: 29_000, fields: { for: ["re-centre"] } }),
      phrase(4, 30_000, 32_000),
    ];
    expect(placesToMark(items)).toEqual([
      { at: 9960, words: "before phrase 1" },
      { at: 24_960, words: "before the re-centre" },
      { at: 29_960, words: "before phrase 5" },
    ]);
    expect(nextPlaceToMark(items, 9960)?.at).toBe(24_960);
    expect(nextPlaceToMark(items, 31_000)?.at).toBe(9960);
    expect(nextPlaceToMark([], 0)).toBeUndefined();
  });
});
