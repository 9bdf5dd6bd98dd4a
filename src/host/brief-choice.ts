// Whose brief? A fencer of the bouts in the open folders, and perhaps against whom.

import * as vscode from "vscode";
import { opponent, sides } from "../bout/words";
import type { BriefSubject } from "../messages/brief";
import { personsOf, type BoutRow, type Person } from "../shelf";

interface Choice extends vscode.QuickPickItem {
  readonly id?: string | undefined;
}

/** Undefined where nobody was chosen. `fencer`: chosen already. */
export async function chooseSubject(
  bouts: readonly BoutRow[],
  fencer: string | undefined,
): Promise<BriefSubject | undefined> {
  const persons = personsOf(bouts).filter(({ id }) => id !== undefined && id.trim() !== "");
  if (persons.length === 0) {
    void vscode.window.showInformationMessage(
      bouts.length === 0
        ? "There is no bout file in the open folders that can be read."
        : 'No fencer in these bouts has an id, by which bouts are joined: give one in "fencers", for example "id": "tarn".',
    );
    return undefined;
  }
  const whose = fencer ?? (await chooseFencer(persons));
  const person = persons.find(({ id }) => id === whose);
  if (whose === undefined) return undefined;
  if (person === undefined) {
    void vscode.window.showInformationMessage(`No bout of "${whose}" is in the open folders any more.`);
    return undefined;
  }
  const against = await chooseOpponent(person, whose, persons);
  if (against === undefined) return undefined;
  return against.id === undefined ? { fencer: whose } : { fencer: whose, against: against.id };
}

async function chooseFencer(persons: readonly Person[]): Promise<string | undefined> {
  const items = [...persons]
    .sort((one, other) => other.bouts.length - one.bouts.length)
    .map((person): Choice => ({ ...itemOf(person), description: about(person, person.bouts.length) }));
  const options = { title: "Brief on a fencer", placeHolder: "Whom is it on?", matchOnDescription: true };
  return (await vscode.window.showQuickPick(items, options))?.id;
}

async function chooseOpponent(
  person: Person,
  id: string,
  persons: readonly Person[],
): Promise<Choice | undefined> {
  const met = meetings(person, id);
  const others = persons.filter((other) => other.id !== id);
  const known = others
    .filter((other) => met.has(other.id ?? ""))
    .sort((one, other) => (met.get(other.id ?? "") ?? 0) - (met.get(one.id ?? "") ?? 0));
  const strangers = others.filter((other) => !met.has(other.id ?? ""));
  const items: Choice[] = [
    { label: "All opponents", description: bouts(person.bouts.length) },
    ...(known.length === 0 ? [] : [separator("have met")]),
    ...known.map((other) => ({ ...itemOf(other), description: about(other, met.get(other.id ?? "") ?? 0) })),
    ...(strangers.length === 0 ? [] : [separator("have not met: common opponents")]),
    ...strangers.map((other) => ({ ...itemOf(other), description: other.id ?? "" })),
  ];
  return vscode.window.showQuickPick(items, {
    title: `Brief on ${person.names[0] ?? id}`,
    placeHolder: "Against whom?",
    matchOnDescription: true,
  });
}

/** How many bouts with each opponent that has an id. */
function meetings(person: Person, id: string): ReadonlyMap<string, number> {
  const met = new Map<string, number>();
  for (const { fencers } of person.bouts) {
    const side = sides.find((one) => fencers[one].id?.trim() === id);
    const other = side === undefined ? undefined : fencers[opponent(side)].id?.trim();
    if (other !== undefined && other !== "") met.set(other, (met.get(other) ?? 0) + 1);
  }
  return met;
}

function itemOf({ id, names }: Person): Choice {
  return { label: names[0] ?? id ?? "", id };
}

function about({ id }: Person, count: number): string {
  return `${id ?? ""} · ${bouts(count)}`;
}

function bouts(count: number): string {
  return count === 1 ? "1 bout" : `${count} bouts`;
}

function separator(label: string): Choice {
  return { label, kind: vscode.QuickPickItemKind.Separator };
}
