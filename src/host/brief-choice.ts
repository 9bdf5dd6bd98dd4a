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
  if (fencer !== undefined && !persons.some(({ id }) => id === fencer)) {
    void vscode.window.showInformationMessage(`No bout of "${fencer}" is in the open folders any more.`);
    return undefined;
  }
  return chosen(persons, fencer);
}

/** One list for both questions: between two lists the focus would go back to a page for a moment, which closes the second. */
function chosen(persons: readonly Person[], fencer: string | undefined): Promise<BriefSubject | undefined> {
  const list = vscode.window.createQuickPick<Choice>();
  list.matchOnDescription = true;
  let whose: string | undefined;
  const ask = (title: string, placeholder: string, items: readonly Choice[]) => {
    list.title = title;
    list.placeholder = placeholder;
    list.value = "";
    list.items = items;
  };
  const askOpponent = (id: string) => {
    whose = id;
    const person = persons.find((one) => one.id === id);
    if (person === undefined) return;
    ask(`Brief on ${person.names[0] ?? id}`, "Against whom?", opponents(person, id, persons));
  };
  if (fencer === undefined) ask("Brief on a fencer", "Whom is it on?", fencers(persons));
  else askOpponent(fencer);
  return new Promise((resolve) => {
    let subject: BriefSubject | undefined;
    list.onDidAccept(() => {
      const [item] = list.selectedItems;
      if (item === undefined) return;
      if (whose === undefined) {
        if (item.id !== undefined) askOpponent(item.id);
        return;
      }
      subject = item.id === undefined ? { fencer: whose } : { fencer: whose, against: item.id };
      list.hide();
    });
    list.onDidHide(() => {
      resolve(subject);
      list.dispose();
    });
    list.show();
  });
}

function fencers(persons: readonly Person[]): readonly Choice[] {
  return [...persons]
    .sort((one, other) => other.bouts.length - one.bouts.length)
    .map((person) => ({ ...itemOf(person), description: about(person, person.bouts.length) }));
}

function opponents(person: Person, id: string, persons: readonly Person[]): readonly Choice[] {
  const met = meetings(person, id);
  const others = persons.filter((other) => other.id !== id);
  const known = others
    .filter((other) => met.has(other.id ?? ""))
    .sort((one, other) => (met.get(other.id ?? "") ?? 0) - (met.get(one.id ?? "") ?? 0));
  const strangers = others.filter((other) => !met.has(other.id ?? ""));
  return [
    { label: "All opponents", description: bouts(person.bouts.length) },
    ...(known.length === 0 ? [] : [separator("have met")]),
    ...known.map((other) => ({ ...itemOf(other), description: about(other, met.get(other.id ?? "") ?? 0) })),
    ...(strangers.length === 0 ? [] : [separator("have not met: common opponents")]),
    ...strangers.map((other) => ({ ...itemOf(other), description: other.id ?? "" })),
  ];
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
