import { expect, it } from "vitest";
import {
  badgeCounts,
  badgeKinds,
  badgeOf,
  boutDescription,
  filtered,
  groupsOf,
  remarksOf,
} from "../../src/host/bouts-view";
import { boutRow as row } from "./rows";

it("A bout stands under both its fencers and both categories", () => {
  const bouts = [row("/a.bout.json")];
  expect(groupsOf(bouts, "fencer").map(({ label }) => label)).toEqual(["Kel Odrey", "Vessa Tarn"]);
  expect(groupsOf(bouts, "category").map(({ label }) => label)).toEqual(["category A", "category B"]);
});

it("The newest event comes first, and bouts without one last", () => {
  const bouts = [
    row("/a.bout.json", { date: "2026-09-09" }),
    row("/b.bout.json", { event: "Orchard Cup", date: "2025-02-01" }),
    row("/c.bout.json", { event: "Harbour Open", date: "2026-02-01" }),
  ];
  expect(groupsOf(bouts, "event").map(({ label }) => label)).toEqual([
    "Harbour Open",
    "Orchard Cup",
    "no event given",
  ]);
});

it("Words are found without regard to case and accents, all of them", () => {
  const bouts = [row("/a.bout.json", { weapon: "epee", event: "Café Cup" }), row("/b.bout.json")];
  expect(filtered(bouts, "EPEE cafe").map(({ file }) => file)).toEqual(["/a.bout.json"]);
  expect(filtered(bouts, "epee nobody")).toEqual([]);
  expect(filtered(bouts, " ")).toHaveLength(2);
});

it("What is to be done on a bout stands in words", () => {
  const bout = row("/a.bout.json", {
    date: "2026-02-01",
    uncalled: 2,
    findings: { error: 1, warning: 2, note: 9 },
    recordings: [{ file: "x.mp4", present: false }],
  });
  expect(boutDescription(bout)).toBe("1 error · 2 warnings · 2 not called · recording missing · 2026-02-01");
});

it("Broken files and files of one bout are told apart from the bouts", () => {
  const remarks = remarksOf(
    [
      row("/a.bout.json", { sum: "same" }),
      row("/b.bout.json", { sum: "same" }),
      { is: "unreadable", file: "/c.bout.json", size: 1, modified: 1, problem: "no JSON", line: 3 },
    ],
    [{ file: "/out", message: "this link leads out" }],
  );
  expect(remarks.map(({ label, description }) => `${label}: ${description}`)).toEqual([
    "c.bout.json: line 3: no JSON",
    "out: this link leads out",
    "Perhaps one bout: a.bout.json, b.bout.json: the files are equal",
  ]);
});

it("Badges tell how many findings, phrases not called and missing recordings there are, in two characters", () => {
  const counts = badgeCounts(
    row("/a.bout.json", {
      uncalled: 12,
      findings: { error: 1, warning: 2, note: 9 },
      recordings: [
        { file: "x.mp4", present: false },
        { file: "y.mp4", present: true },
      ],
    }),
  );
  expect(badgeKinds.map((kind) => badgeOf(kind, counts[kind]))).toEqual([
    { text: "3!", tooltip: "3 findings" },
    { text: "+?", tooltip: "12 phrases not called" },
    { text: "1×", tooltip: "1 recording missing" },
  ]);
  expect(badgeOf("findings", 0)).toBeUndefined();
});

it("A suggestion says why and shows the bouts to look at, until it is dismissed", () => {
  const bout = (file: string, id: string, name: string, date: string) =>
    row(file, { date, fencers: { left: { id, name }, right: { name: "Kel Odrey" } } });
  const bouts = [
    bout("/a.bout.json", "tarn", "Vessa Tarn", "2026-01-01"),
    bout("/b.bout.json", "tarn", "Vessa Tarn", "2026-02-01"),
    bout("/c.bout.json", "vt", "TARN Véssa", "2026-03-01"),
  ];
  const [remark] = remarksOf(bouts, []);
  expect(remark).toMatchObject({
    label: "Perhaps one person: TARN Véssa (vt), Vessa Tarn (tarn)",
    description: "the same name but for accents, case or order",
  });
  const suggestion = remark?.suggestion;
  expect(suggestion?.bouts.map(({ file }) => file)).toEqual(["/c.bout.json", "/b.bout.json"]);
  expect(remarksOf(bouts, [], new Set([suggestion?.key ?? ""]))).toEqual([]);
});
