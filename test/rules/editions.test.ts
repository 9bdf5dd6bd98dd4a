import { describe, expect, test } from "vitest";
import {
  editionNamed,
  editions,
  editionSchema,
  extendEdition,
  nextCost,
  offenceNamed,
} from "../../src/rules";

const fie = edition("fie-2026");
const wheelchair = edition("wheelchair-2026");

function edition(id: string) {
  const found = editionNamed(id);
  if (found === undefined) throw new Error(`no edition ${id}`);
  return found;
}

const { pool, elimination, veterans, training } = fie.formats;

describe("every edition that comes with Boutline", () => {
  test.each([...editions.keys()])("%s has the shape of an edition, each fact with its source", (id) => {
    const result = editionSchema.strict().safeParse(edition(id));
    expect(result.error?.issues ?? []).toEqual([]);
  });

  test("names each offence once, in small letters, so that a card's words find it", () => {
    for (const { offences } of editions.values()) {
      const names = offences.map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      expect(names).toEqual(names.map((name) => name.toLowerCase()));
    }
  });
  test("an edition that is not there is not found", () => expect(editionNamed("fie-1912")).toBeUndefined());
});

describe("FIE Technical Rules, August 2026", () => {
  test.each([
    ["t.38 a pool bout ends at 5 touches", pool.touches.value, 5],
    ["t.38 or after 3 minutes, in one period", [pool.periods.value, pool.periodSeconds.value], [1, 180]],
    ["t.38.2.b with one extra minute", pool.extraSeconds.value, 60],
    ["t.39.1 direct elimination goes to 15", elimination.touches.value, 15],
    [
      "t.39.1 in three periods of 3 minutes",
      [elimination.periods.value, elimination.periodSeconds.value],
      [3, 180],
    ],
    ["t.39.1 with a minute of rest", elimination.restSeconds.value, 60],
    ["t.39.1 at sabre the first period also ends at 8", elimination.sabreBreak.value, 8],
    ["t.40.3 and one extra minute", elimination.extraSeconds.value, 60],
    ["t.42 veterans fence to 10", veterans.touches.value, 10],
    ["t.42 in two periods of 3 minutes", [veterans.periods.value, veterans.periodSeconds.value], [2, 180]],
    ["t.42 and break at 5 at sabre", veterans.sabreBreak.value, 5],
    ["t.61.1 a fencer has 1 appeal in a pool bout", pool.appeals.value, 1],
    ["t.61.1 and 2 in direct elimination", elimination.appeals.value, 2],
    ["a training bout has no limits", [training.touches.value, training.periodSeconds.value], [null, null]],
    ["t.92 an épée double gives a touch each", fie.doubles.epee.value, "one each"],
    ["t.89 at foil one fencer scores at most", fie.doubles.foil.value, "one at most"],
    ["t.106 at sabre too", fie.doubles.sabre.value, "one at most"],
    ["t.38.1.b a double at 4-4 does not count", pool.decidingDouble.value, "does not count"],
    ["t.98 sabre has no lamp for off target", fie.lamps.sabre["off-target"].value, null],
    ["t.124 unwillingness costs P-red, then P-black", fie.unwillingness.steps, ["P-red", "P-black"]],
    ["t.124 each after a minute without a hit", fie.unwillingness.seconds, 60],
    ["t.124 and never in a pool", fie.unwillingness.formats.includes("pool"), false],
  ])("%s", (_, value, expected) => expect(value).toEqual(expected));

  test.each([
    ["t.165 a first offence of group 1 is yellow", [], 1, 0, "yellow", 0],
    ["t.165 a second is red, a touch to the opponent", ["yellow"], 1, 1, "red", 1],
    ["t.165 and red each time after", ["yellow", "red", "red"], 1, 3, "red", 1],
    ["t.165, t.162.2 after a red of group 2 a first of group 1 is red", ["red"], 1, 0, "red", 1],
    ["t.166 group 2 is red without any yellow", [], 2, 0, "red", 1],
    ["t.166 and red again", ["red"], 2, 1, "red", 1],
    ["t.167 a first of group 3 is red even for one who holds reds", ["red", "red"], 3, 0, "red", 1],
    ["t.167 a second of group 3 is black", ["red"], 3, 1, "black", 0],
    ["t.169 group 4 is black at once", [], 4, 0, "black", 0],
    ["t.124.3.e P-cards are apart: a first of group 1 is still yellow", ["P-red"], 1, 0, "yellow", 0],
  ] as const)("%s", (_, held, group, earlier, card, touches) =>
    expect(nextCost(fie, held, group, earlier)).toEqual({ card, touches }),
  );

  test.each([
    ["covering the target", 1, true, "1.4"],
    ["turning the back", 1, true, "1.3"],
    ["stopping the bout without cause", 1, false, "1.7"],
    ["straightening the weapon on the piste", 1, false, "1.9"],
    ["touch with the guard", 1, true, "1.12"],
    ["using the other hand or arm", 2, true, "2.1"],
    ["unjustified medical break", 2, false, "2.2"],
    ["hitting something else on purpose", 2, true, "2.5"],
    ["dishonest fencing", 3, true, "3.2"],
    ["refusing to salute", 4, false, "4.6"],
  ])("t.170: %s is of group %i, annuls: %s, number %s", (name, group, annuls, number) =>
    expect(offenceNamed(fie, name)).toMatchObject({ group, annuls, number }),
  );

  test("t.170: of group 1, only offences with a star annul", () =>
    expect(
      fie.offences.filter(({ group, annuls }) => group === 1 && annuls).map(({ number }) => number),
    ).toEqual(["1.2", "1.3", "1.4", "1.5", "1.6", "1.12", "1.12", "1.15", "1.16", "1.16", "1.16"]));

  test("an offence is found in any letter case, and an unknown one is not", () => {
    expect(offenceNamed(fie, " Turning the Back ")?.number).toBe("1.3");
    expect(offenceNamed(fie, "early start")).toBeUndefined();
    expect(offenceNamed(fie, undefined)).toBeUndefined();
  });
});

describe("wheelchair fencing, 2026", () => {
  test("an early start is of group 1 and annuls (French digest), unverified in the international table", () => {
    const early = offenceNamed(wheelchair, "early start");
    expect(early).toMatchObject({ group: 1, annuls: true });
    expect(early?.unverified).toBeDefined();
  });

  test("a foot off the footrest annuls the offender's touch (Swedish rules 2B)", () =>
    expect(offenceNamed(wheelchair, "foot off the footrest")).toMatchObject({ group: 1, annuls: true }));

  test("every card of its own is marked unverified: the international table could not be read", () => {
    const own = wheelchair.offences.filter((offence) => !fie.offences.includes(offence));
    expect(own.map(({ name }) => name)).toContain("lifting from the seat");
    expect(own.filter(({ unverified }) => unverified === undefined)).toEqual([]);
  });

  test("pools go to 5 in 3 minutes, elimination to 15 in three times 3 (overview and Games pages)", () => {
    const { formats } = wheelchair;
    expect([formats.pool.touches.value, formats.pool.periodSeconds.value]).toEqual([5, 180]);
    expect([formats.elimination.touches.value, formats.elimination.periods.value]).toEqual([15, 3]);
  });

  test("the number of appeals is taken from FIE and marked unverified", () =>
    expect(wheelchair.formats.elimination.appeals).toMatchObject({ value: 2, source: "FIE t.61.1" }));

  test("whatever it leaves out is as in FIE 2026", () => {
    expect(wheelchair.groups).toEqual(fie.groups);
    expect(wheelchair.doubles).toEqual(fie.doubles);
    expect(offenceNamed(wheelchair, "covering the target")).toEqual(offenceNamed(fie, "covering the target"));
  });
});

test("an edition that extends another replaces an offence of the same name and adds the rest", () => {
  const source = "club rules";
  const club = extendEdition(fie, {
    id: "club",
    title: "Club",
    source,
    extends: "fie-2026",
    formats: { pool: { touches: { value: 4, source } } },
    offences: [
      { name: "hair", group: 2, annuls: false, source },
      { name: "music", group: 1, annuls: false, source },
    ],
  });
  expect(editionSchema.safeParse(club).success).toBe(true);
  expect(club.formats.pool).toEqual({ ...pool, touches: { value: 4, source } });
  expect(club.offences.filter(({ name }) => name === "hair")).toHaveLength(1);
  expect(offenceNamed(club, "hair")?.group).toBe(2);
  expect(club.offences).toHaveLength(fie.offences.length + 1);
});
