// What the view "Bouts" shows of the shelf, and in which order: groups of bouts, what speaks for looking at them again,
// and what may be one person or one bout. No VS Code in here.

import { sides, weaponName } from "../bout/words";
import { counted } from "../pages/numbers";
import {
  likelySameBouts,
  likelySamePersons,
  personsOf,
  type BoutRow,
  type LeftOut,
  type Person,
  type ShelfRow,
} from "../shelf";

export const groupings = ["event", "fencer", "weapon", "category", "date"] as const;
export type Grouping = (typeof groupings)[number];

export interface BoutGroup {
  /** The same for the same group after a change of its bouts. */
  readonly key: string;
  readonly label: string;
  readonly bouts: readonly BoutRow[];
  /** The id of the fencer whose bouts these are, where they have one. */
  readonly fencer?: string | undefined;
}

/** A bout stands in each group it belongs to: under both its fencers, and under both categories where they differ. */
export function groupsOf(bouts: readonly BoutRow[], grouping: Grouping): readonly BoutGroup[] {
  if (grouping === "fencer")
    return personsOf(bouts).map(({ key, names, id, bouts: all }) => ({
      key,
      label: personName({ id, names }),
      bouts: newestFirst(all),
      fencer: id,
    }));
  const groups = new Map<string, BoutRow[]>();
  for (const bout of bouts)
    for (const label of new Set(labelsOf(bout, grouping))) {
      const there = groups.get(label);
      if (there === undefined) groups.set(label, [bout]);
      else there.push(bout);
    }
  const latest = (all: readonly BoutRow[]) => all[0]?.date ?? "";
  return [...groups]
    .map(([label, all]) => ({ key: label, label, bouts: newestFirst(all) }))
    .sort((one, other) => {
      const unsaid = Number(one.label.startsWith("no ")) - Number(other.label.startsWith("no "));
      if (unsaid !== 0) return unsaid;
      if (grouping === "date" || grouping === "event") {
        const [a, b] = [latest(one.bouts), latest(other.bouts)];
        if (a !== b) return a < b ? 1 : -1;
      }
      return one.label.localeCompare(other.label, "en");
    });
}

function labelsOf(bout: BoutRow, grouping: Exclude<Grouping, "fencer">): readonly string[] {
  switch (grouping) {
    case "event":
      return [bout.event ?? "no event given"];
    case "weapon":
      return [weaponName(bout.weapon)];
    case "category": {
      const given = sides.flatMap((side) => bout.fencers[side].category ?? []);
      return given.length === 0 ? ["no category given"] : given.map((category) => `category ${category}`);
    }
    case "date":
      return [bout.date?.slice(0, 7) ?? "no date given"];
  }
}

function newestFirst(bouts: readonly BoutRow[]): readonly BoutRow[] {
  return [...bouts].sort((one, other) => {
    const [a, b] = [one.date ?? "", other.date ?? ""];
    return a === b ? (one.file < other.file ? -1 : 1) : a < b ? 1 : -1;
  });
}

/** Those in which every word is found, in whatever field; case and accents don't matter. */
export function filtered(bouts: readonly BoutRow[], words: string): readonly BoutRow[] {
  const wanted = plain(words)
    .split(/\s+/)
    .filter((word) => word !== "");
  if (wanted.length === 0) return bouts;
  return bouts.filter((bout) => {
    const text = textOf(bout);
    return wanted.every((word) => text.includes(word));
  });
}

/** Made once for each row, so that thousands are filtered while somebody types. */
const texts = new WeakMap<BoutRow, string>();
function textOf(bout: BoutRow): string {
  const known = texts.get(bout);
  if (known !== undefined) return known;
  const { title, event, round, date, file, fencers } = bout;
  const people = sides.flatMap((side) => Object.values(fencers[side]) as (string | undefined)[]);
  const text = plain([title, event, round, date, weaponName(bout.weapon), file, ...people].join(" "));
  texts.set(bout, text);
  return text;
}

function plain(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}

export function boutLabel({ fencers, score }: BoutRow): string {
  return `${fencers.left.name} ${score[0]} : ${score[1]} ${fencers.right.name}`;
}

/** What a reader needs beside the names: what is to be done, in words, then day and round. */
export function boutDescription(bout: BoutRow): string {
  return [...toDo(bout), bout.date, bout.round].filter((part) => part !== undefined).join(" \u00b7 ");
}

export function toDo({ findings, uncalled, recordings }: BoutRow): readonly string[] {
  const missing = recordings.filter(({ present }) => !present).length;
  return [
    ...(findings.error === 0 ? [] : [counted(findings.error, "error")]),
    ...(findings.warning === 0 ? [] : [counted(findings.warning, "warning")]),
    ...(uncalled === 0 ? [] : [`${uncalled} not called`]),
    ...(missing === 0 ? [] : [missing === 1 ? "recording missing" : `${missing} recordings missing`]),
  ];
}

/** A sign at the end of a row that a narrow view shows too: how many, and of what. */
export interface Badge {
  /** Two characters: the number and the kind's sign; more than nine are told by the tooltip alone. */
  readonly text: string;
  readonly tooltip: string;
}

export const badgeKinds = ["findings", "uncalled", "missing"] as const;
export type BadgeKind = (typeof badgeKinds)[number];
export type BadgeCounts = Readonly<Record<BadgeKind, number>>;

const badgeSigns: Readonly<Record<BadgeKind, readonly [sign: string, one: string, many: string]>> = {
  findings: ["!", "finding", "findings"],
  uncalled: ["?", "phrase not called", "phrases not called"],
  missing: ["\u00d7", "recording missing", "recordings missing"],
};

/** Findings that are notes are not counted: nothing is to be done about them. */
export function badgeCounts({ findings, uncalled, recordings }: BoutRow): BadgeCounts {
  return {
    findings: findings.error + findings.warning,
    uncalled,
    missing: recordings.filter(({ present }) => !present).length,
  };
}

/** Undefined where there is nothing to count. */
export function badgeOf(kind: BadgeKind, count: number): Badge | undefined {
  if (count === 0) return undefined;
  const [sign, one, many] = badgeSigns[kind];
  return { text: `${count > 9 ? "+" : count}${sign}`, tooltip: `${count} ${count === 1 ? one : many}` };
}

export function hasMissing({ recordings }: BoutRow): boolean {
  return recordings.some(({ present }) => !present);
}

export interface Remark {
  readonly label: string;
  readonly description: string;
  /** Opened by a click. */
  readonly file?: string;
  readonly suggestion?: Suggestion;
}

/** What may be one and is written as two; nothing is merged. */
export type Suggestion = {
  /** Names it, so that it can be dismissed. */
  readonly key: string;
  /** To look at: the files, or the newest bout of each person. */
  readonly bouts: readonly BoutRow[];
} & (
  { readonly is: "one bout" } | { readonly is: "one person"; readonly persons: readonly [Person, Person] }
);

/** Files that hold no bout, what was not looked into, and what may be one person or one bout twice. */
export function remarksOf(
  rows: readonly ShelfRow[],
  leftOut: readonly LeftOut[],
  dismissed: ReadonlySet<string> = new Set(),
): readonly Remark[] {
  const bouts = rows.filter((row) => row.is === "bout");
  return [
    ...rows.flatMap((row) =>
      row.is === "bout"
        ? []
        : [
            {
              label: nameOf(row.file),
              description: `${row.line === undefined ? "" : `line ${row.line}: `}${row.problem}`,
              file: row.file,
            },
          ],
    ),
    ...leftOut.map(({ file, message }) => ({ label: nameOf(file), description: message })),
    ...suggestionsOf(bouts).filter(({ suggestion }) => !dismissed.has(suggestion.key)),
  ];
}

function suggestionsOf(bouts: readonly BoutRow[]): readonly (Remark & { suggestion: Suggestion })[] {
  return [
    ...likelySameBouts(bouts).map(({ bouts: same, because }) => ({
      label: `Perhaps one bout: ${same.map(({ file }) => nameOf(file)).join(", ")}`,
      description: because,
      suggestion: {
        is: "one bout" as const,
        key: JSON.stringify(same.map(({ file }) => file).sort()),
        bouts: same,
      },
    })),
    ...likelySamePersons(personsOf(bouts)).map(({ persons, because }) => ({
      label: `Perhaps one person: ${persons.map(personName).join(", ")}`,
      description: because,
      suggestion: {
        is: "one person" as const,
        key: JSON.stringify(persons.map(({ key }) => key).sort()),
        persons,
        bouts: persons.flatMap(({ bouts: all }) => newestFirst(all).slice(0, 1)),
      },
    })),
  ];
}

/** The name written most often, with the id. */
export function personName({ id, names }: Pick<Person, "id" | "names">): string {
  return `${names[0] ?? ""}${id === undefined ? "" : ` (${id})`}`;
}

export function nameOf(file: string): string {
  return file.slice(Math.max(file.lastIndexOf("/"), file.lastIndexOf("\\")) + 1);
}
