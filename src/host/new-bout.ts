// Makes a bout file for a recording, beside it, in two steps: which recording, and who fences.

import path from "node:path";
import * as vscode from "vscode";
import { formats, weaponName, weapons, type Format, type Weapon } from "../bout/words";
import { editions } from "../rules";
import type { BoutRow } from "../shelf";
import { findRecordings, recordingEndings } from "../shelf/recordings";
import { blankBoutText, freeName, type KnownFencer } from "./blank-bout";
import { nameOf } from "./bouts-view";
import { knownAs, likelyFacts, peopleKnown, recordingsNamed, type KnownPerson } from "./known-bouts";
import { relativePath } from "./recording-path";

type Fencers = { readonly left: KnownFencer; readonly right: KnownFencer };
/** What a step may end with besides its answer: the way back, or Escape. */
type Step<T> = T | "back" | undefined;

/** Where no bout says otherwise. */
const usualRules = "wheelchair-2026";

/** Asks for what it is not given; the new file, or undefined where the user turned back. `bouts`: all that are known. */
export async function newBout(
  chosen: readonly vscode.Uri[],
  bouts: readonly BoutRow[],
): Promise<vscode.Uri | undefined> {
  for (;;) {
    const recordings = chosen.length > 0 ? chosen : await askForRecordings(bouts);
    const [first] = recordings;
    if (first === undefined) return undefined;
    const fencers = await askWhoFences(first, bouts, chosen.length === 0);
    if (fencers === undefined) return undefined;
    if (fencers === "back") continue;
    const folder = vscode.Uri.joinPath(first, "..");
    const named = fencers === "later" ? [] : [fencers.left, fencers.right];
    const likely = likelyFacts(bouts, folder.fsPath, named);
    const kind =
      likely.weapon !== undefined && likely.format !== undefined
        ? { weapon: likely.weapon, format: likely.format }
        : await askForKind(likely);
    if (kind === undefined) return undefined;
    return make(recordings, folder, {
      ...kind,
      rules: likely.rules ?? usualRules,
      fencers: fencers === "later" ? undefined : fencers,
    });
  }
}

async function make(
  recordings: readonly vscode.Uri[],
  folder: vscode.Uri,
  about: { weapon: Weapon; format: Format; rules: string; fencers: Fencers | undefined },
): Promise<vscode.Uri | undefined> {
  let taken: ReadonlySet<string>;
  try {
    taken = new Set((await vscode.workspace.fs.readDirectory(folder)).map(([name]) => name));
  } catch {
    void vscode.window.showErrorMessage(`${folder.fsPath} can't be read, so no bout file was made.`);
    return undefined;
  }
  const name = freeName(recordings[0]?.path.split("/").at(-1) ?? "bout", taken);
  const files = recordings.map((recording) => relativePath(folder.path, recording.path));
  const text = blankBoutText({
    ...about,
    title: name.replace(/\.bout\.json$/, ""),
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

// ---- Step 1: which recording

type RecordingItem = vscode.QuickPickItem & { readonly file?: string };

async function askForRecordings(bouts: readonly BoutRow[]): Promise<readonly vscode.Uri[]> {
  const folders = (vscode.workspace.workspaceFolders ?? []).filter(({ uri }) => uri.scheme === "file");
  if (folders.length === 0) return chooseByHand();
  const box = vscode.window.createQuickPick<RecordingItem>();
  box.title = "New bout: which recording?";
  box.step = 1;
  box.totalSteps = 2;
  box.placeholder = "Looking for recordings in the folders open here\u2026";
  box.busy = true;
  box.matchOnDescription = true;
  const answer = answered(box, () => box.activeItems[0]);
  const stop = new AbortController();
  void findRecordings(
    folders.map(({ uri }) => uri.fsPath),
    { signal: stop.signal },
  ).then((files) => {
    const named = recordingsNamed(bouts);
    const newest = [...files].sort((one, other) => other.modified - one.modified);
    const item = ({ file }: { file: string }): RecordingItem => ({
      label: nameOf(file),
      description: vscode.workspace.asRelativePath(path.dirname(file)),
      file,
    });
    const without = newest.filter(({ file }) => !named.has(file));
    const having = newest.filter(({ file }) => named.has(file));
    box.items = [
      ...heading("without a bout file, newest first", without.map(item)),
      ...heading("with a bout file already", having.map(item)),
      { label: "", kind: vscode.QuickPickItemKind.Separator },
      { label: "$(file-media) Choose a file elsewhere\u2026" },
    ];
    box.placeholder =
      files.length === 0 ? "No recording in the folders open here" : "The bout file is made beside it";
    box.busy = false;
  });
  const chosen = await answer;
  stop.abort();
  box.dispose();
  if (chosen === undefined || chosen === "back") return [];
  return chosen.file === undefined ? chooseByHand() : [vscode.Uri.file(chosen.file)];
}

function heading(label: string, items: readonly RecordingItem[]): readonly RecordingItem[] {
  return items.length === 0 ? [] : [{ label, kind: vscode.QuickPickItemKind.Separator }, ...items];
}

async function chooseByHand(): Promise<readonly vscode.Uri[]> {
  const picked = await vscode.window.showOpenDialog({
    title: "Recordings of the bout; the first one sets the clock",
    openLabel: "Take",
    canSelectMany: true,
    filters: { Recordings: [...recordingEndings], "All files": ["*"] },
  });
  return picked ?? [];
}

// ---- Step 2: who fences

type PersonItem = vscode.QuickPickItem & { readonly person?: KnownFencer };

/** Left, then right, in one box: those known from other bouts with their ids, so that a person's bouts join, or a name
 * as typed. */
async function askWhoFences(
  recording: vscode.Uri,
  bouts: readonly BoutRow[],
  canGoBack: boolean,
): Promise<Step<Fencers | "later">> {
  const people = peopleKnown(bouts);
  const box = vscode.window.createQuickPick<PersonItem>();
  box.step = canGoBack ? 2 : 1;
  box.totalSteps = canGoBack ? 2 : 1;
  box.buttons = canGoBack ? [vscode.QuickInputButtons.Back] : [];
  box.matchOnDescription = true;
  box.ignoreFocusOut = true;
  let left: KnownFencer | undefined;
  const show = () => {
    const side = left === undefined ? "left" : "right";
    box.title = `${nameOf(recording.path)}: who fences on the referee's ${side}?`;
    box.placeholder =
      left === undefined ? "Choose or type a name" : `${left.name} on the left; now the right`;
    box.items = personItems(box.value, people, left);
  };
  const changes = box.onDidChangeValue(show);
  show();
  try {
    for (;;) {
      const chosen = await answered(box, () => box.activeItems[0]);
      if (chosen === undefined || chosen === "back") return chosen;
      if (chosen.person === undefined) return "later";
      if (left !== undefined) return { left, right: chosen.person };
      left = chosen.person;
      box.value = "";
      show();
    }
  } finally {
    changes.dispose();
    box.dispose();
  }
}

function personItems(
  value: string,
  people: readonly KnownPerson[],
  left: KnownFencer | undefined,
): PersonItem[] {
  const typed = value.trim();
  const alike = knownAs(typed, people);
  const known = people
    .filter((person) => person !== left)
    .map((person): PersonItem => ({
      label: person.name,
      description: [person.id, person.club, person.bouts === 1 ? "1 bout" : `${person.bouts} bouts`]
        .filter((part) => part !== undefined)
        .join(" \u00b7 "),
      person,
      // Also when typed with other accents.
      alwaysShow: person === alike,
    }));
  const asTyped: PersonItem[] =
    typed === "" || alike?.name === typed
      ? []
      : [
          {
            label: typed,
            description: "new here, as typed",
            alwaysShow: true,
            person: { name: typed },
          },
        ];
  const later: PersonItem[] =
    left === undefined && typed === ""
      ? [
          { label: "", kind: vscode.QuickPickItemKind.Separator },
          { label: "$(edit) Write the names into the text later" },
        ]
      : [];
  return [...known, ...asTyped, ...later];
}

// ---- Asked only where the bouts known don't tell

/** Weapon and format in one question, the likeliest first. */
async function askForKind({
  weapon: likelyWeapon,
  format: likelyFormat,
}: {
  readonly weapon: Weapon | undefined;
  readonly format: Format | undefined;
}): Promise<{ weapon: Weapon; format: Format } | undefined> {
  const items = weapons
    .flatMap((weapon) => formats.map((format) => ({ weapon, format })))
    .map((about) => ({ label: `${weaponName(about.weapon)}, ${about.format}`, about }))
    .sort((one, other) => Number(isLikely(other.about)) - Number(isLikely(one.about)));
  function isLikely({ weapon, format }: { weapon: Weapon; format: Format }): boolean {
    return (
      (likelyWeapon === undefined || weapon === likelyWeapon) &&
      (likelyFormat === undefined || format === likelyFormat)
    );
  }
  const chosen = await vscode.window.showQuickPick(items, {
    title: "Weapon and format of the bout",
    placeHolder: `By the rules ${usualRules} unless the bouts beside it say otherwise; ${editions.size} editions can be named in the text`,
    ignoreFocusOut: true,
  });
  return chosen?.about;
}

/** What the box is answered with: the item in front at Enter, "back" by its button, undefined by Escape. */
function answered<T extends vscode.QuickPickItem>(
  box: vscode.QuickPick<T>,
  taken: () => T | undefined,
): Promise<Step<T>> {
  return new Promise((resolve) => {
    const subscriptions = [
      box.onDidAccept(() => {
        const item = taken();
        if (item !== undefined) end(item);
      }),
      box.onDidTriggerButton(() => end("back")),
      box.onDidHide(() => end(undefined)),
    ];
    function end(answer: Step<T>): void {
      for (const one of subscriptions) one.dispose();
      resolve(answer);
    }
    box.show();
  });
}

function localDay(date: Date): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
