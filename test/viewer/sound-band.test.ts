import { describe, expect, test } from "vitest";
import { soundColumns } from "../../src/viewer/line/sound-band";

describe("The sound under the phrase line", () => {
  const levels = Uint8Array.from({ length: 1000 }, (_, index) => (index === 437 ? 200 : 20));
  const sound = { levels, loudest: 200, offset: 0 };

  test("a buzzer of a hundredth of a second is seen however much of the bout is shown", () => {
    const columns = soundColumns(sound, { from: 0, to: 10_000, width: 50 });
    expect(columns.length).toBe(50);
    expect(columns.indexOf(1)).toBe(21); // 4.37 s of 10 s
    expect(columns.filter((level) => Math.abs(level - 0.1) < 1e-6).length).toBe(49);
  });

  test("shown larger than its hundredths, each is as wide as it lasts", () => {
    const columns = soundColumns(sound, { from: 4360, to: 4390, width: 30 });
    expect([...columns].map((level) => (level === 1 ? 1 : 0)).join("")).toBe(
      "000000000011111111110000000000",
    );
  });

  test("a second recording's sound stands where its offset puts it, and nothing where none is known", () => {
    const columns = soundColumns({ ...sound, offset: 5000 }, { from: 0, to: 20_000, width: 20 });
    expect(columns[4]).toBeNaN();
    expect(columns[9]).toBe(1); // 4.37 s later than 5 s
    expect(columns[15]).toBeNaN();
  });
});
