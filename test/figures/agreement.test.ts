import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { agreementOf, compareBouts, relationOf } from "../../src/figures";
import { matchSpans, overlapOf, type Span } from "../../src/figures/matching";
import { readBout } from "../../src/bout/read";
import { studyOf } from "../../src/rules";
import { at, ledgerOf, phrase, textOf, type Written } from "../rules/bouts";

const spans = (gaps: readonly (readonly [number, number])[]): Span[] => {
  let time = 0;
  return gaps.map(([gap, length]) => {
    const from = time + gap;
    time = from + length;
    return { from, to: time };
  });
};
const apart = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 1, max: 6 })), { maxLength: 6 })
  .map(spans);

/** The most any one-to-one pairing overlaps, tried in full. */
function most(first: readonly Span[], second: readonly Span[]): number {
  const [one, ...rest] = first;
  if (one === undefined) return 0;
  return Math.max(
    most(rest, second),
    ...second.map((other, index) => overlapOf(one, other) + most(rest, second.toSpliced(index, 1))),
  );
}

describe("phrases of two taggers", () => {
  test("are matched so that no other pairing overlaps more", () => {
    fc.assert(
      fc.property(apart, apart, (first, second) => {
        const matches = matchSpans(first, second);
        const sum = matches.reduce((total, { overlap }) => total + overlap, 0);
        expect(sum).toBe(most(first, second));
        expect(new Set(matches.map((match) => match.first)).size).toBe(matches.length);
        expect(new Set(matches.map((match) => match.second)).size).toBe(matches.length);
        for (const { first: one, second: other, overlap } of matches) {
          const [span, spanToo] = [first[one], second[other]];
          if (span === undefined || spanToo === undefined) throw new Error("no such span");
          expect(overlap).toBe(overlapOf(span, spanToo));
          expect(overlap).toBeGreaterThan(0);
        }
      }),
    );
  });

  const seen = (index: number, fields: Written, late = 0) =>
    phrase(`${index}:10.${String(late).padStart(3, "0")}`, `${index}:14`, fields);

  test("agreement on award, opener and family, with what differs side by side", () => {
    const first = [
      seen(0, { actions: ["left attack"], award: "left" }),
      seen(1, { actions: ["right attack"], award: "right" }),
      seen(2, { actions: ["left attack", "right parry", "right riposte"], award: "right" }),
      seen(3, { award: "none" }),
      seen(4, { actions: ["left attack"], award: "left" }),
    ];
    const second = [
      { kind: "note", at: at("0:01"), text: "again" },
      seen(0, { actions: ["left attack"], award: "left" }, 120),
      seen(1, { actions: ["left attack"], award: "right" }, 80),
      seen(2, { actions: ["left attack", "right counter-attack"], award: "right" }, 40),
      seen(3, { actions: ["both attack"], award: "left" }),
      phrase("5:10", "5:14", { award: "left" }),
    ];
    const found = agreementOf(ledgerOf({}, first), ledgerOf({}, second));
    expect(found.matched.map((match) => [match.first, match.second, match.start])).toEqual([
      [0, 1, 0.12],
      [1, 2, 0.08],
      [2, 3, 0.04],
      [3, 4, 0],
    ]);
    expect(found.unmatched).toEqual({ first: [4], second: [5] });
    expect(found.start).toMatchObject({ count: 4, median: 0.06, least: 0, most: 0.12 });
    expect(found.judgements.map(({ what, kappa }) => [what, kappa.agreed, kappa.of])).toEqual([
      ["award", 3, 4],
      ["opener", 2, 3],
      ["family", 1, 2],
    ]);
    expect(found.differences).toEqual([
      { what: "opener", first: { entry: 1, says: "right" }, second: { entry: 2, says: "left" } },
      { what: "family", first: { entry: 2, says: "riposte" }, second: { entry: 3, says: "counter-attack" } },
      { what: "award", first: { entry: 3, says: "none" }, second: { entry: 4, says: "left" } },
    ]);
    // Award: by chance 1/4 · 1/2 + 1/2 · 1/2 alike, so (3/4 - 3/8) / (1 - 3/8).
    expect(found.judgements[0]?.kappa.value).toBeCloseTo(0.6, 12);
  });

  test("a second recording that starts earlier is brought to the same clock", () => {
    const file = (offset: number | undefined, log: readonly Written[]) => {
      const text = textOf({}, log).replace(
        '"recordings": []',
        `"recordings": [${offset === undefined ? "" : `{ "file": "own.mp4" }, `}{ "file": "a/hall.mp4"${offset === undefined ? "" : `, "offset": ${offset}`} }]`,
      );
      const study = studyOf(readBout(text));
      if (study === undefined) throw new Error(text);
      return study.ledger;
    };
    const found = agreementOf(
      file(undefined, [phrase("0:10", "0:14", { award: "left" })]),
      file(30, [phrase("0:40", "0:44", { award: "left" })]),
    );
    expect(found.matched).toMatchObject([{ first: 0, second: 0, start: 0, overlap: 4 }]);
  });
});

describe("two files", () => {
  const fencers = (left: string, right: string) => ({ left: { name: left }, right: { name: right } });
  const bout = (left: string, right: string, about: object = {}) =>
    ledgerOf(about, [], fencers(left, right)).bout;
  test("of the same fencers on the same sides are one bout, unless something contradicts it", () => {
    expect(relationOf(bout("A", "B"), bout("A", "B")).relation).toBe("same bout");
    expect(relationOf(bout("A", "B"), bout("B", "A")).relation).toBe("two bouts");
    expect(relationOf(bout("A", "B"), bout("A", "C")).relation).toBe("two bouts");
    const dated = (date: string) => bout("A", "B", { date });
    expect(relationOf(dated("2026-10-17"), dated("2026-10-18"))).toMatchObject({
      relation: "two bouts",
      why: "the same fencers, but another date",
    });
    expect(relationOf(dated("2026-10-17"), bout("A", "B")).relation).toBe("same bout");
  });

  test("of two bouts compare the fencer who is in both, on whichever side", () => {
    const won = (index: number, side: string, award: string) =>
      phrase(`${index}:10`, `${index}:14`, { actions: [`${side} attack`], award });
    const first = ledgerOf(
      {},
      [0, 1, 2, 3, 4, 5].map((index) => won(index, "left", "left")),
      fencers("A", "B"),
    );
    const second = ledgerOf(
      {},
      [0, 1, 2, 3, 4, 5].map((index) => won(index, "right", "left")),
      fencers("C", "A"),
    );
    const found = compareBouts(first, second);
    expect(found.fencers).toEqual([{ name: "A", first: "left", second: "right" }]);
    const opening = found.comparisons.list.find(({ key }) => key === "bouts.left.opened.for");
    expect(opening).toMatchObject({
      kind: "shares",
      first: { count: 6, of: 6 },
      second: { count: 0, of: 6 },
    });
    // Fisher: 2 / C(12, 6).
    expect(opening?.p).toBeCloseTo(2 / 924, 12);
    expect(found.comparisons.tried).toBe(found.comparisons.list.length);
  });
});
