import { deserialize, serialize } from "node:v8";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { packedRows, unpackedRows, type PackedRows } from "../../src/shelf/packed-rows";
import type { ShelfRow } from "../../src/shelf/row";

const word = fc.string({ maxLength: 4 });
const maybe = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: undefined });
const count = fc.nat({ max: 3 });
const file = fc
  .tuple(fc.constantFrom("/", "/shelf/", "/shelf/b\u00e9/"), fc.uuid())
  .map(([folder, name]) => `${folder}${name}.bout.json`);
const fencer = fc.record({
  id: maybe(word),
  name: word,
  club: maybe(word),
  hand: maybe(fc.constantFrom("left", "right")),
  category: maybe(word),
});
const about = { file, size: fc.nat(), modified: fc.double({ noNaN: true, noDefaultInfinity: true, min: 0 }) };
const bout = fc.record({
  ...about,
  is: fc.constant("bout"),
  sum: word,
  title: maybe(word),
  event: maybe(word),
  round: maybe(word),
  date: maybe(word),
  weapon: fc.constantFrom("foil", "epee", "sabre"),
  format: fc.constantFrom("pool", "elimination"),
  rules: word,
  fencers: fc.record({ left: fencer, right: fencer }),
  score: fc.tuple(count, count),
  winner: fc.constantFrom("left", "right", null),
  phrases: count,
  uncalled: count,
  findings: fc.record({ error: count, warning: count, note: count }),
  recordings: fc.array(fc.record({ file: word, present: fc.boolean() }), { maxLength: 2 }),
  editionFile: maybe(fc.record({ file: word, size: fc.integer(), modified: fc.nat() })),
});
const unreadable = fc.record({
  ...about,
  is: fc.constant("unreadable"),
  problem: word,
  line: maybe(fc.nat()),
});
const shelf = fc.array(fc.oneof({ weight: 4, arbitrary: bout }, unreadable), {
  maxLength: 12,
}) as fc.Arbitrary<ShelfRow[]>;
const kept = (rows: readonly ShelfRow[]) => deserialize(serialize(packedRows(rows))) as PackedRows;

describe("packed rows", () => {
  it("come back as they were and in their order, whatever they hold", () => {
    fc.assert(
      fc.property(shelf, (rows) => {
        expect(unpackedRows(kept(rows))).toEqual(rows);
      }),
    );
  });

  it("hold a value once that many rows share", () => {
    const [row] = fc.sample(bout, { numRuns: 1, seed: 7 }) as ShelfRow[];
    const rows = Array.from({ length: 500 }, () => row).filter((one) => one !== undefined);
    expect(kept(rows).columns.left.values).toHaveLength(1);
    const [one, two] = unpackedRows(kept(rows));
    expect(one?.is === "bout" && two?.is === "bout" && one.fencers.left === two.fencers.left).toBe(true);
  });

  it("are refused where a column was cut", () => {
    fc.assert(
      fc.property(shelf, (rows) => {
        const packed = kept(rows);
        fc.pre(packed.names.length > 0);
        const { score } = packed.columns;
        const cut = { ...packed, columns: { ...packed.columns, score: { ...score, at: score.at.slice(1) } } };
        expect(() => unpackedRows(cut)).toThrow("too short");
      }),
    );
  });
});
