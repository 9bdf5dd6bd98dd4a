import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { frameAt, nearestFrame, seekTarget } from "../../src/bout/frames";
import { formatTime, fromSeconds, parseTime, type Milliseconds } from "../../src/bout/time";

describe("a time in the file", () => {
  test("reads back as written", () => {
    fc.assert(
      fc.property(fc.nat(359_999_999), (ms) => {
        expect(parseTime(formatTime(ms as Milliseconds))).toBe(ms);
      }),
    );
  });

  test.each([
    ["0:00:00.000", 0],
    ["0:04:12.480", 252_480],
    ["1:00:00.001", 3_600_001],
    ["12:59:59.999", 46_799_999],
  ])("%s is %d ms", (text, ms) => expect(parseTime(text)).toBe(ms));

  test.each([
    "",
    "0:00:00",
    "0:00:00.00",
    "0:60:00.000",
    "0:00:61.000",
    "00.000",
    "-0:00:01.000",
    "0:00:01,000",
  ])("%j is no time", (text) => expect(parseTime(text)).toBeUndefined());
});

// 29.97 frames a second is 30000/1001 exactly: SMPTE ST 12-1, common knowledge of the trade.
const ntsc = Float64Array.from({ length: 3000 }, (_, index) => (index * 1001) / 30000);
const variable = Float64Array.from([0, 0.033, 0.05, 0.1, 0.133, 0.3]);

describe("a frame", () => {
  test("is found again from its time rounded to milliseconds, at any rate up to 240 a second", () => {
    fc.assert(
      fc.property(fc.double({ min: 10, max: 240, noNaN: true }), fc.nat(100_000), (rate, index) => {
        const times = Float64Array.from({ length: 3 }, (_, step) => (index + step) / rate);
        expect(frameAt(times, fromSeconds(times[1] ?? 0))).toBe(1);
      }),
    );
    ntsc.forEach((seconds, index) => expect(frameAt(ntsc, fromSeconds(seconds))).toBe(index));
  });

  test("is the one shown when a seek is aimed between it and the next", () => {
    for (const times of [ntsc, variable])
      times.forEach((own, index) => {
        const target = seekTarget(times, index);
        expect(target).toBeGreaterThan(own);
        expect(target).toBeLessThan(times[index + 1] ?? Infinity);
      });
  });

  test("nearest to a time outside the recording is the first or the last", () => {
    expect(nearestFrame(variable, -1)).toBe(0);
    expect(nearestFrame(variable, 9)).toBe(5);
    expect(nearestFrame(new Float64Array(), 1)).toBe(-1);
    expect(seekTarget(new Float64Array(), 0)).toBe(0);
    expect(seekTarget(Float64Array.of(0), 0)).toBe(0);
  });
});
