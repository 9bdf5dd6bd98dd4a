import { describe, expect, test } from "vitest";
import { formatDate } from "../../src/pages/dates";
import {
  centimetres,
  clock,
  counted,
  decimal,
  percent,
  percentLimits,
  probability,
} from "../../src/pages/numbers";

const plain = (text: string) => text.replace(/\u00a0/g, " ");

describe("numbers on a page", () => {
  test("shares are whole percent", () => {
    expect(plain(percent(0.4286))).toBe("43 %");
    expect(plain(percent(1))).toBe("100 %");
    expect(plain(percentLimits(0.214, 0.674))).toBe("21 to 67 %");
  });

  test("what rounds to nothing has no sign, what is below it a true minus", () => {
    expect(decimal(-0.04, 1)).toBe("0.0");
    expect(decimal(-0.06, 1)).toBe("\u22120.1");
    expect(plain(centimetres(-0.0312))).toBe("\u22123.1 cm");
  });

  test("times read as on a scoreboard", () => {
    expect(clock(0)).toBe("0:00");
    expect(clock(243.52)).toBe("4:03");
    expect(clock(3723)).toBe("1:02:03");
  });

  test("small probabilities are not written as nothing", () => {
    expect(probability(0.0002)).toBe("p < 0.001");
    expect(probability(0.0127)).toBe("p = 0.013");
    expect(probability(0.3)).toBe("p = 0.30");
  });

  test("one of a thing is not many", () => {
    expect(counted(1, "phrase")).toBe("1 phrase");
    expect(counted(0, "phrase")).toBe("0 phrases");
  });

  test("dates are spelt out, and other text stays as it is", () => {
    expect(formatDate("2026-10-07")).toBe("7 October 2026");
    expect(formatDate("2026-13-07")).toBe("2026-13-07");
    expect(formatDate("last autumn")).toBe("last autumn");
    expect(formatDate(undefined)).toBeUndefined();
  });
});
