import { describe, expect, test } from "vitest";
import { driftStudyOf } from "../../src/figures";
import { studyOf } from "../../src/rules";
import { readBout } from "../../src/bout/read";
import { readFileSync } from "node:fs";
import path from "node:path";
import { frameAt } from "../demo/truth.mjs";
import { clicked, picturesOf, platformsAt, usualCamera, type Truth } from "../piste/camera";
import { at, ledgerOf, phrase, type Written } from "../rules/bouts";

const straight: Truth = { centre: [0, 0], direction: 0, gap: 0.7, twist: { left: 0, right: 0 } };
const tapes = [
  [-2, -1],
  [2, -1],
  [2, 1],
  [-2, 1],
] as const;
const fitPoints = clicked(usualCamera, tapes);
const shot = (time: string, name: string): Written => ({ kind: "shot", at: at(time), name });
const fit = (time: string, points: unknown = fitPoints): Written => ({ kind: "fit", at: at(time), points });
const stop = (time: string, reason: string): Written => ({ kind: "stop", at: at(time), for: reason });

function platforms(time: string, truth: Partial<Truth> = {}, changed: Written = {}): Written {
  return {
    kind: "platforms",
    at: at(time),
    ...picturesOf(usualCamera, platformsAt({ ...straight, ...truth })),
    ...changed,
  };
}

function told(log: readonly Written[]) {
  const { steps, stretches, refused, recentres, gapChanges } = driftStudyOf(ledgerOf({}, log));
  return {
    steps,
    stretches,
    refused: refused.map(({ entry, reason }) => [entry, reason]),
    recentres,
    gapChanges,
  };
}

/** A log with one odd mark between two good ones. */
const around = (odd: Written): Written[] => [fit("0:01"), platforms("0:02"), odd, platforms("0:20")];
const pictures = picturesOf(usualCamera, platformsAt(straight));
const { left, right } = pictures;

describe("no number rather than a wrong one, and the reason", () => {
  test.each<readonly [string, readonly Written[], number, RegExp]>([
    ["sides swapped", around(platforms("0:10", {}, { left: right, right: left })), 2, /sides are swapped/],
    [
      "inner and outer swapped",
      around(platforms("0:10", {}, { left: [left[1], left[0]] })),
      2,
      /inner and the outer corner of the left platform are swapped/,
    ],
    [
      "a corner outside the picture",
      around(platforms("0:10", {}, { right: [right[0], [1.02, right[1][1]]] })),
      2,
      /right platform lies outside the picture/,
    ],
    [
      "points of the fit on one line",
      [
        fit(
          "0:01",
          clicked(
            usualCamera,
            [-2, -1, 1, 2].map((x) => [x, 0] as const),
          ),
        ),
        platforms("0:10"),
      ],
      1,
      /fit before it can't be used/,
    ],
    [
      "a fit as in a mirror",
      [
        fit(
          "0:01",
          clicked(usualCamera, tapes).map(({ floor: [x, y], image }) => ({ floor: [-x, y], image })),
        ),
        platforms("0:10"),
      ],
      1,
      /mirror/,
    ],
    ["platforms before any fit", [platforms("0:01"), fit("0:02")], 0, /no fit ties/],
    [
      "a fit inside a step",
      [fit("0:01"), platforms("0:02"), fit("0:05"), platforms("0:10")],
      3,
      /a fit stands between it and the place before/,
    ],
    [
      "a close shot without a fit of its own",
      [fit("0:01"), platforms("0:02"), shot("0:05", "close"), platforms("0:10")],
      3,
      /no fit ties the picture of the shot "close"/,
    ],
    [
      "a close shot with the fit of an earlier one",
      [shot("0:01", "close"), fit("0:02"), shot("0:05", "main"), shot("0:06", "close"), platforms("0:10")],
      4,
      /no two close pictures/,
    ],
    [
      "a replay, even with a fit",
      [shot("0:01", "replay"), fit("0:02"), platforms("0:10")],
      2,
      /replay, which shows an earlier moment/,
    ],
    ["a jump by metres", around(platforms("0:10", { centre: [1.7, 0] })), 2, /jumped by 1\.70 m/],
    ["one platform alone", [fit("0:01"), platforms("0:02", {}, { right: undefined })], 1, /only the left/],
  ])("%s", (_, log, entry, reason) => {
    const { steps, refused } = told(log);
    expect(steps.filter((step) => step.to === entry || step.from === entry)).toEqual([]);
    expect(refused[0]?.[0]).toBe(entry);
    expect(refused[0]?.[1]).toMatch(reason);
  });

  test("an odd mark leaves the good ones around it their places, but no move across it", () => {
    const { steps, stretches } = told(around(platforms("0:10", {}, { left: right, right: left })));
    expect(steps).toEqual([]);
    expect(stretches.map(({ places, end }) => [places.length, end])).toEqual([
      [1, "refused"],
      [1, "end of the log"],
    ]);
  });

  test("one platform alone between two good places leaves their move", () => {
    expect(told(around(platforms("0:10", {}, { right: undefined }))).steps).toHaveLength(1);
  });

  test("a cut away and back needs no new fit", () => {
    const log = [
      fit("0:01"),
      platforms("0:02"),
      shot("0:05", "close"),
      shot("0:08", "main"),
      platforms("0:10", { centre: [0.05, 0] }),
    ];
    const { steps, refused } = told(log);
    expect(refused).toEqual([]);
    expect(steps[0]?.along).toBeCloseTo(0.05, 8);
  });
});

describe("stretches", () => {
  const log = [
    fit("0:01"),
    platforms("0:02"),
    phrase("0:03", "0:04", { award: "none" }),
    platforms("0:05", { centre: [0.04, 0] }),
    phrase("0:06", "0:07", { award: "none" }),
    platforms("0:08", { centre: [0.09, 0], gap: 0.6 }),
    stop("0:09", "re-centre"),
    platforms("0:10", { gap: 0.6 }),
    phrase("0:11", "0:12", { award: "none" }),
    stop("0:13", "distance"),
    platforms("0:14"),
  ];

  test("end with a re-centre, which tells how many phrases they held and how far the platforms had gone", () => {
    const { stretches, recentres } = told(log);
    expect(stretches.map(({ places, end }) => [places.map(({ phrases }) => phrases), end])).toEqual([
      [[0, 1, 2], "re-centre"],
      [[2], "distance"],
      [[3], "end of the log"],
    ]);
    expect(recentres).toMatchObject([{ entry: 6, phrases: 2, after: 2 }]);
    expect(recentres[0]?.crept?.along).toBeCloseTo(0.09, 8);
  });

  test("tell of a gap that closed by more than its error, until the distance is set anew", () => {
    const { gapChanges } = told(log);
    expect(gapChanges).toHaveLength(1);
    expect([gapChanges[0]?.from.entry, gapChanges[0]?.to.entry]).toEqual([1, 7]);
    expect(gapChanges[0]?.change).toBeCloseTo(-0.1, 8);
  });
});

test("of the demo's moves along, about 95 in 100 lie within their error of what was drawn", () => {
  const text = readFileSync(
    path.join(import.meta.dirname, "..", "..", "media", "demo", "demo.bout.json"),
    "utf8",
  );
  const study = studyOf(readBout(text));
  if (study === undefined) throw new Error("the demo can't be read");
  const { steps, refused } = driftStudyOf(study.ledger);
  expect(refused).toEqual([]);
  // 25 frames a second.
  const truth = (entry: number) => {
    const row = study.ledger.byEntry[entry];
    if (row?.kind !== "platforms") throw new Error("no platforms");
    return frameAt((row.entry.at / 1000) * 25);
  };
  const share = (held: (step: (typeof steps)[number]) => boolean) => steps.filter(held).length / steps.length;
  const along = share(
    (step) => Math.abs(step.along - (truth(step.to).along - truth(step.from).along)) <= step.error.along,
  );
  const turn = share(
    (step) =>
      Math.abs((step.turn ?? NaN) - (truth(step.to).turn - truth(step.from).turn)) <=
      (step.error.turn ?? NaN),
  );
  // Its clicks are drawn half as far off as an error allows for.
  expect(along).toBeGreaterThan(0.93);
  expect(turn).toBeGreaterThan(0.93);
});
