// "Give both the same id": shows what it would change in which bout file, and changes what the person ticks.

import * as vscode from "vscode";
import { success } from "../bout/result";
import { sides } from "../bout/words";
import type { BoutRow, Person } from "../shelf";
import { nameOf, personName, type Suggestion } from "./bouts-view";
import { changeHeads, type HeadChange } from "./head-changes";
import { freeId, idChanges } from "./id-changes";
import type { Writer } from "./writer";

export async function giveSameId(
  { persons }: Extract<Suggestion, { is: "one person" }>,
  all: readonly BoutRow[],
  writer: Writer,
): Promise<void> {
  const id = await chooseId(persons, all);
  if (id === undefined) return;
  const items = idChanges(persons, id).map((change) => ({
    label: nameOf(change.boutFile),
    description: `${change.side}: ${change.name}`,
    detail: change.before === undefined ? `gets the id ${id}` : `id ${change.before} becomes ${id}`,
    picked: true,
    change,
  }));
  const chosen = await vscode.window.showQuickPick(items, {
    canPickMany: true,
    title: `Give ${persons.map(personName).join(" and ")} the id ${id} in these bout files?`,
    placeHolder: "OK changes the ticked ones; names stay as they are written",
    ignoreFocusOut: true,
  });
  const changes = (chosen ?? []).map(({ change: { boutFile, side } }): HeadChange => ({
    boutFile,
    plan: () => success([{ path: ["fencers", side, "id"], value: id }]),
  }));
  if (changes.length > 0) await changeHeads(changes, writer, `the id ${id}`);
}

/** Undefined where the person turned back. */
async function chooseId(
  persons: readonly [Person, Person],
  all: readonly BoutRow[],
): Promise<string | undefined> {
  const ids = persons.flatMap(({ id, names, bouts }) => (id === undefined ? [] : [{ id, names, bouts }]));
  const [first, second] = ids;
  if (first !== undefined && second !== undefined)
    return (
      await vscode.window.showQuickPick(
        ids.map(({ id, names, bouts }) => ({
          label: id,
          description: `${names[0] ?? ""}, ${bouts.length === 1 ? "1 bout" : `${bouts.length} bouts`}`,
        })),
        { title: "Which id is to stay?", ignoreFocusOut: true },
      )
    )?.label;
  if (first !== undefined) return first.id;
  const taken = idsOf(all);
  const typed = await vscode.window.showInputBox({
    title: `An id for ${persons.map(personName).join(" and ")}`,
    prompt: "A short code that stays the same from bout to bout",
    value: freeId(persons[0].names[0] ?? "", taken),
    ignoreFocusOut: true,
    validateInput: (value) =>
      value.trim() === ""
        ? "An id needs at least one letter or digit."
        : taken.has(value.trim())
          ? `${value.trim()} is somebody else's id.`
          : undefined,
  });
  return typed?.trim();
}

function idsOf(bouts: readonly BoutRow[]): ReadonlySet<string> {
  return new Set(bouts.flatMap(({ fencers }) => sides.flatMap((side) => fencers[side].id?.trim() ?? [])));
}
