import { expect, test } from "vitest";
import { editBout } from "../../src/bout/edit";
import { readBout } from "../../src/bout/read";
import { blankBoutText, freeName } from "../../src/host/blank-bout";
import { studyOf } from "../../src/rules/index";

const blank = (...recordings: string[]) =>
  blankBoutText({
    title: 'A "quoted" title',
    weapon: "epee",
    format: "pool",
    rules: "wheelchair-2026",
    recordings,
    today: "2026-11-25",
  });

test("A new bout file reads without a problem, whatever its recordings; all there is to say is that nothing is recorded yet", () => {
  for (const recordings of [[], ["qf.mp4"], ["qf.mp4", "../side camera/qf 2.mp4"]]) {
    const reading = readBout(blank(...recordings));
    expect(reading.problems).toEqual([]);
    expect(studyOf(reading)?.findings.map(({ rule }) => rule)).toEqual(["nothing-recorded"]);
    expect(reading.bout?.recordings.map(({ file }) => file)).toEqual(recordings);
    expect(reading.bout?.about).toMatchObject({ title: 'A "quoted" title', weapon: "epee", format: "pool" });
  }
});

test("The first entry of a new bout file stands on a line of its own", () => {
  const edited = editBout(readBout(blank("qf.mp4")).scan, {
    do: "insert",
    entry: { kind: "phrase", start: "0:00:01.000" },
  });
  expect(edited.ok && edited.value.text).toContain(
    '  "log": [\n    { "kind": "phrase", "start": "0:00:01.000" }\n  ]\n}\n',
  );
});

test("A bout file is named after its recording and never takes another's name", () => {
  expect(freeName("qf.mp4", new Set())).toBe("qf.bout.json");
  expect(freeName("harbour.open.qf.mp4", new Set())).toBe("harbour.open.qf.bout.json");
  expect(freeName("qf.mp4", new Set(["qf.bout.json", "qf-2.bout.json"]))).toBe("qf-3.bout.json");
  expect(freeName(".mp4", new Set())).toBe(".mp4.bout.json");
  expect(freeName("qf", new Set())).toBe("qf.bout.json");
});

test("Fencers known from other bouts keep their ids in a new one, without the category", () => {
  const text = blankBoutText({
    title: "qf",
    weapon: "foil",
    format: "elimination",
    rules: "wheelchair-2026",
    fencers: {
      left: { id: "tarn", name: "Vessa Tarn", club: "Low Quay", hand: "left" },
      right: { name: 'Kel "K" Odrey' },
    },
    recordings: ["qf.mp4"],
    today: "2026-11-25",
  });
  const reading = readBout(text);
  expect(reading.problems).toEqual([]);
  expect(reading.bout?.fencers).toEqual({
    left: { id: "tarn", name: "Vessa Tarn", club: "Low Quay", hand: "left" },
    right: { name: 'Kel "K" Odrey' },
  });
  expect(text).not.toContain("Write their names here");
});
