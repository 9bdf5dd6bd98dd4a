// Makes a bout file for a recording, beside it, and opens it.

import * as vscode from "vscode";
import { formats, weaponName, weapons, type Format, type Weapon } from "../bout/words";
import { editions } from "../rules";
import { blankBoutText, freeName } from "./blank-bout";
import { relativePath } from "./recording-path";

const endings = ["mp4", "m4v", "mov", "mkv", "webm", "avi", "mts", "m2ts", "ts", "mpg", "mpeg", "wmv", "mxf"];

/** Asks for what it is not given; the new file, or undefined where the user turned back. */
export async function newBout(chosen: readonly vscode.Uri[]): Promise<vscode.Uri | undefined> {
  const recordings = chosen.length > 0 ? chosen : await askForRecordings();
  const [first] = recordings;
  if (first === undefined) return undefined;
  const weapon = await pick<Weapon>("Weapon", weapons, weaponName);
  if (weapon === undefined) return undefined;
  const format = await pick<Format>("Format of the bout", formats, (format) => format);
  if (format === undefined) return undefined;
  const rules = await askForRules();
  if (rules === undefined) return undefined;

  const folder = vscode.Uri.joinPath(first, "..");
  const taken = new Set((await vscode.workspace.fs.readDirectory(folder)).map(([name]) => name));
  const name = freeName(first.path.slice(first.path.lastIndexOf("/") + 1), taken);
  const files = recordings.map((recording) => relativePath(folder.path, recording.path));
  const text = blankBoutText({
    title: name.replace(/\.bout\.json$/, ""),
    weapon,
    format,
    rules,
    recordings: files.filter((file) => file !== undefined),
    today: localDay(new Date()),
  });
  const uri = vscode.Uri.joinPath(folder, name);
  const creation = new vscode.WorkspaceEdit();
  // Fails rather than overwrites, should the name have been taken meanwhile.
  creation.createFile(uri, { overwrite: false, contents: new TextEncoder().encode(text) });
  if (await vscode.workspace.applyEdit(creation)) return uri;
  void vscode.window.showErrorMessage(
    `${uri.fsPath} could not be made. See whether its folder may be written to.`,
  );
  return undefined;
}

async function askForRecordings(): Promise<readonly vscode.Uri[]> {
  const picked = await vscode.window.showOpenDialog({
    title: "Recordings of the bout; the first one sets the clock",
    openLabel: "Take",
    canSelectMany: true,
    filters: { Recordings: endings, "All files": ["*"] },
  });
  return picked ?? [];
}

async function pick<T extends string>(
  title: string,
  choices: readonly T[],
  shown: (choice: T) => string,
): Promise<T | undefined> {
  const items = choices.map((choice) => ({ label: shown(choice), choice }));
  return (await vscode.window.showQuickPick(items, { title }))?.choice;
}

async function askForRules(): Promise<string | undefined> {
  const items = [...editions.values()].map(({ id, title }) => ({ label: id, description: title }));
  return (await vscode.window.showQuickPick(items, { title: "Rule edition in force" }))?.label;
}

function localDay(date: Date): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
