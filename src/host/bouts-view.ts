// What the view "Bouts" shows of the shelf, and in which order: groups of bouts, what speaks for looking at them again,
// and what may be one person or one bout. No VS Code in here.

import { sides, weaponName } from "../bout/words";
import {
  likelySameBouts,
  likelySamePersons,
  personsOf,
  type BoutRow,
  type LeftOut,
  type ShelfRow,
} from "../shelf";

export const groupings = ["event", "fencer", "weapon", "category", "date"] as const;
export type Grouping = (typeof groupings)[number];

export interface BoutGroup {
  /** The same for the same group after a change of its bouts. */
  readonly key: string;
  readonly label: string;
  readonly bouts: readonly BoutRow[];
}

/** A bout stands in each group it belongs to: under both its fencers, and under both categories where they differ. */
export function groupsOf(bouts: readonly BoutRow[], grouping: Grouping): readonly BoutGroup[] {
  if (grouping === "fencer")
    return personsOf(bouts).map(({ key, names, id, bouts: all }) => ({
      key,
      label: [names[0] ?? "", ...(id === undefined ? [] : [`(${id})`])].join(" "),
      bouts: newestFirst(all),
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
    const { title, event, round, date, file, fencers } = bout;
    const people = sides.flatMap((side) => Object.values(fencers[side]) as (string | undefined)[]);
    const text = plain([title, event, round, date, weaponName(bout.weapon), file, ...people].join(" "));
    return wanted.every((word) => text.includes(word));
  });
}

function plain(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}

export function boutLabel({ fencers, score }: BoutRow): string {
  return `${fencers.left.name} ${score[0]} : ${score[1]} ${fencers.right.name}`;
}

/** What a reader needs beside the names: day, round, and what is to be done, in words. */
export function boutDescription(bout: BoutRow): string {
  return [bout.date, bout.round, ...toDo(bout)].filter((part) => part !== undefined).join(" · ");
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

export function hasMissing({ recordings }: BoutRow): boolean {
  return recordings.some(({ present }) => !present);
}

export function counted(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? "" : "s"}`;
}

export interface Remark {
  readonly label: string;
  readonly description: string;
  /** Opened by a click. */
  readonly file?: string;
}

/** Files that hold no bout, what was not looked into, and what may be one person or one bout twice. */
export function remarksOf(rows: readonly ShelfRow[], leftOut: readonly LeftOut[]): readonly Remark[] {
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
    ...likelySameBouts(bouts).map(({ bouts: same, because }) => ({
      label: `Perhaps one bout: ${same.map(({ file }) => nameOf(file)).join(", ")}`,
      description: because,
      file: same[0]?.file ?? "",
    })),
    ...likelySamePersons(personsOf(bouts)).map(({ persons, because }) => ({
      label: `Perhaps one person: ${persons
        .map(({ id, names }) => `${names[0] ?? ""}${id === undefined ? "" : ` (${id})`}`)
        .join(", ")}`,
      description: `${because}; give both the same id if so`,
    })),
  ];
}

export function nameOf(file: string): string {
  return file.slice(Math.max(file.lastIndexOf("/"), file.lastIndexOf("\\")) + 1);
}
