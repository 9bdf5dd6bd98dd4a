// The quick way to a row and the thorough one, and what is seen of a file's bytes.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bytesSeen } from "../../src/shelf/bytes";
import { quickRow } from "../../src/shelf/quick-row";
import { thoroughRow } from "../../src/shelf/thorough-row";
import { anyBout } from "../bout/texts";
import { inventedBout } from "./generated";

/** With room behind them for a multiple of four, and something else in it. */
function held(bytes: Buffer): Buffer {
  const room = Buffer.from(new ArrayBuffer(Math.ceil((bytes.length + 8) / 4) * 4)).fill(0xba);
  bytes.copy(room);
  return room;
}
const seen = (bytes: Buffer) => bytesSeen(held(bytes), bytes.length);

const about = { file: "/a/b.bout.json", size: 1, modified: 2 };
const around = {
  edition: (name: string) => ({ state: { file: name, size: -1, modified: 0 }, file: undefined }),
  isPresent: (recording: string) => recording.length % 2 === 0,
};

function rows(text: string): { readonly quick: unknown; readonly thorough: unknown } {
  const { sum, colons } = seen(Buffer.from(text));
  const given = { text, sum, colons };
  return { quick: quickRow(about, given, around), thorough: thoroughRow(about, given, around) };
}

describe("the quick row of a file", () => {
  test("is the thorough one, whatever the log, the edition and the day", () => {
    let taken = 0;
    const head = fc.record({
      weapon: fc.constantFrom("foil", "epee", "sabre"),
      format: fc.constantFrom("pool", "elimination", "veterans", "training"),
      rules: fc.constantFrom("fie-2024", "fie-2026", "wheelchair-2026", "fie-2025", "harbour-2026"),
      date: fc.constantFrom("2020-01-01", "2024-10-10", "2026-10-10"),
    });
    fc.assert(
      fc.property(anyBout, head, ({ text }, { weapon, format, rules, date }) => {
        const other = text
          .replace('"weapon": "foil"', `"weapon": "${weapon}", "date": "${date}"`)
          .replace('"format": "elimination"', `"format": "${format}"`)
          .replace('"rules": "fie-2026"', `"rules": "${rules}"`)
          .replace('"recordings": []', '"recordings": [{ "file": "a.mp4" }, { "file": "ab.mp4" }]');
        const { quick, thorough } = rows(other);
        if (quick === undefined) return;
        taken++;
        expect(quick).toEqual(thorough);
      }),
      { numRuns: 1500 },
    );
    expect(taken).toBeGreaterThan(200);
  });

  test("is there for bouts as they are", () => {
    for (let number = 0; number < 30; number++) {
      const { quick, thorough } = rows(inventedBout(number, { bouts: 30 }));
      expect(quick).toEqual(thorough);
    }
  });
});

describe("what is seen of a file's bytes", () => {
  const bytes = fc.oneof(
    fc.uint8Array({ maxLength: 60 }),
    fc.string({ maxLength: 60 }).map((text) => Buffer.from(text)),
    fc
      .array(fc.constantFrom(0x3a, 0x39, 0x3b, 0xba, 0, 0x80), { maxLength: 40 })
      .map((list) => Buffer.from(list)),
  );

  test("are its colons, and whether all of it is plain", () => {
    fc.assert(
      fc.property(bytes, (given) => {
        const { colons, plain } = seen(Buffer.from(given));
        expect(colons).toBe(given.filter((byte) => byte === 0x3a).length);
        expect(plain).toBe(given.every((byte) => byte < 128));
      }),
      { numRuns: 2000 },
    );
  });

  test("is the same sum for the same bytes, and another where one of them, or their number, is another", () => {
    fc.assert(
      fc.property(bytes, fc.nat(), fc.integer({ min: 1, max: 255 }), (given, place, change) => {
        const one = Buffer.from(given);
        const { sum } = seen(one);
        expect(seen(Buffer.from(given)).sum).toBe(sum);
        expect(seen(Buffer.concat([one, Buffer.alloc(1)])).sum).not.toBe(sum);
        if (one.length === 0) return;
        const at = place % one.length;
        one.writeUInt8(one.readUInt8(at) ^ change, at);
        expect(seen(one).sum).not.toBe(sum);
      }),
      { numRuns: 2000 },
    );
  });

  test("tells 200,000 texts apart that differ in a digit or two", () => {
    const sums = new Set<string>();
    for (let number = 0; number < 200_000; number++)
      sums.add(seen(Buffer.from(`{ "start": "0:00:${number}", "halt": "0:01:00" }`)).sum);
    expect(sums.size).toBe(200_000);
  });
});
