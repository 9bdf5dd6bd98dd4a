import { expect, it } from "vitest";
import { stretchOf } from "../../src/host/media-range";

it.each([
  ["bytes=0-0", { from: 0, to: 0 }],
  ["bytes=2-5", { from: 2, to: 5 }],
  ["bytes=7-", { from: 7, to: 9 }],
  ["bytes=2-99999999999999999999999999", { from: 2, to: 9 }],
  ["bytes=-3", { from: 7, to: 9 }],
  ["bytes=-30", { from: 0, to: 9 }],
  ["Bytes= 2-5 ", { from: 2, to: 5 }],
])("of a recording of ten bytes, %s is a part", (header, stretch) => {
  expect(stretchOf(header, 10)).toEqual(stretch);
});

it.each(["bytes=10-", "bytes=10-12", "bytes=99999999999999999999999999-", "bytes=-0"])(
  "of a recording of ten bytes, %s is nothing",
  (header) => {
    expect(stretchOf(header, 10)).toBe("outside");
  },
);

it.each([
  undefined,
  "",
  "bytes=",
  "bytes=-",
  "bytes=5-2",
  "bytes=1-2,4-5",
  "bytes=a-b",
  "bytes=0x1-2",
  "lines=1-2",
])("a range that can't be understood, like %s, asks for the whole", (header) => {
  expect(stretchOf(header, 10)).toBe("whole");
});

it("an empty recording has no part to give", () => {
  expect(stretchOf("bytes=0-", 0)).toBe("outside");
  expect(stretchOf("bytes=-1", 0)).toBe("outside");
});
