import { expect, it } from "vitest";
import { freeId, idChanges } from "../../src/host/id-changes";
import { knownAs, likelyFacts, peopleKnown, recordingsNamed } from "../../src/host/known-bouts";
import { personsOf } from "../../src/shelf";
import { boutRow } from "./rows";

const tarn = { id: "tarn", name: "Vessa Tarn" };
const odrey = { name: "Kel Odrey" };
const bouts = [
  boutRow("/old/a.bout.json", {
    date: "2025-01-01",
    fencers: { left: { ...tarn, club: "Low Quay", category: "B" }, right: odrey },
  }),
  boutRow("/new/b.bout.json", {
    date: "2026-01-01",
    weapon: "epee",
    fencers: { left: odrey, right: { ...tarn, club: "Millgate", hand: "left" } },
    recordings: [{ file: "../video/b.mp4", present: true }],
  }),
];

it("Who is known comes with the id, club and hand of the newest bout, without the category", () => {
  expect(peopleKnown(bouts)).toEqual([
    { id: undefined, name: "Kel Odrey", club: undefined, hand: undefined, bouts: 2, last: "2026-01-01" },
    { id: "tarn", name: "Vessa Tarn", club: "Millgate", hand: "left", bouts: 2, last: "2026-01-01" },
  ]);
  expect(knownAs("tarn  VÉSSA", peopleKnown(bouts))?.id).toBe("tarn");
  expect(knownAs("Vessa", peopleKnown(bouts))).toBeUndefined();
  expect(knownAs(" ", peopleKnown(bouts))).toBeUndefined();
});

it("Only what the bouts in the folder agree on is taken unasked; without any, those of the fencers", () => {
  expect(likelyFacts(bouts, "/new", [tarn])).toEqual({
    weapon: "epee",
    format: "pool",
    rules: "wheelchair-2026",
  });
  expect(likelyFacts(bouts, "/elsewhere", [tarn])).toEqual({
    weapon: undefined,
    format: "pool",
    rules: "wheelchair-2026",
  });
  expect(likelyFacts(bouts, "/elsewhere", [{ name: "Vessa Tarn" }])).toEqual({
    weapon: undefined,
    format: undefined,
    rules: undefined,
  });
});

it("A recording counts as having a bout file by where it lies, not by how it is named", () => {
  expect([...recordingsNamed(bouts)]).toEqual(["/video/b.mp4"]);
});

it("Giving both the same id touches only the fencers who have another one", () => {
  const more = [
    ...bouts,
    boutRow("/new/c.bout.json", { fencers: { left: { name: "Véssa Tarn" }, right: { ...tarn } } }),
  ];
  const persons = personsOf(more).filter(({ names }) => names.some((name) => /Tarn$/.test(name)));
  expect(persons).toHaveLength(2);
  expect(idChanges(persons, "tarn")).toEqual([
    { boutFile: "/new/c.bout.json", side: "left", name: "Véssa Tarn", before: undefined },
  ]);
  expect(idChanges(persons, "vt").map(({ boutFile, side }) => `${boutFile} ${side}`)).toEqual([
    "/new/b.bout.json right",
    "/new/c.bout.json left",
    "/new/c.bout.json right",
    "/old/a.bout.json left",
  ]);
});

it("A new id is made of the name and is nobody else's", () => {
  expect(freeId("Véssa Tarn", new Set())).toBe("tarn-vessa");
  expect(freeId("Véssa Tarn", new Set(["tarn-vessa", "tarn-vessa-2"]))).toBe("tarn-vessa-3");
});
