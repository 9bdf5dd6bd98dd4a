import { expect, it } from "vitest";
import { boutDescription, filtered, groupsOf, remarksOf } from "../../src/host/bouts-view";
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
  expect(boutDescription(bout)).toBe("2026-02-01 · 1 error · 2 warnings · 2 not called · recording missing");
});

it("Broken files and files of one bout are told apart from the bouts", () => {
  const remarks = remarksOf(
    [
      row("/a.bout.json", { hash: "same" }),
      row("/b.bout.json", { hash: "same" }),
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
