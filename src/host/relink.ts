// "Find the recording again": looks for recordings that are not where their bout files say, shows what it has found, and
// on the person's word makes the bout files name them where they are now. Nothing is changed unasked.

import path from "node:path";
import * as vscode from "vscode";
import { failure, success } from "../bout/result";
import type { BoutRow } from "../shelf";
import { nameOf } from "./bouts-view";
import {
  candidatesFor,
  likenessOf,
  missingOf,
  namedIn,
  placeOf,
  type Candidate,
  type Likeness,
  type Missing,
  type Naming,
} from "./find-again";
import { changeHeads, type HeadChange } from "./head-changes";
import type { Prints } from "./prints";
import { relativePath } from "./recording-path";
import type { Writer } from "./writer";

export interface RelinkServices {
  readonly writer: Writer;
  readonly prints: Prints;
  /** All bouts of the folders open here. */
  readonly bouts: () => Promise<readonly BoutRow[]>;
}

const headings: Readonly<Record<Likeness, string>> = {
  "the same recording": "the same recording, by its fingerprint",
  "not proven the same": "same name, not proven the same",
  "another recording": "same name, but another recording",
};

/** For the bouts chosen; for all of the shelf where none is. Answers with the bout files that were changed. */
export async function findAgain(
  chosen: readonly BoutRow[] | undefined,
  services: RelinkServices,
): Promise<readonly string[]> {
  const all = await services.bouts();
  // As they are now: the view may be a moment behind.
  const files = chosen === undefined ? undefined : new Set(chosen.map(({ file }) => file));
  const missing = missingOf(
    all.filter(({ file }) => files?.has(file) ?? true),
    all,
  );
  const [only, ...others] = missing;
  if (only === undefined) {
    void vscode.window.showInformationMessage("No recording is missing here.");
    return [];
  }
  return others.length === 0 ? new Search(services).one(only) : new Search(services).many(missing);
}

/** For one recording of a bout file that need not be on the shelf. */
export async function findOneAgain(
  boutFile: string,
  written: string,
  services: RelinkServices,
): Promise<readonly string[]> {
  const place = placeOf(boutFile, written);
  const others = namedIn(place, await services.bouts()).filter((one) => one.boutFile !== boutFile);
  return new Search(services).one({ place, named: [{ boutFile, written }, ...others] });
}

type Choice =
  | { readonly do: "take"; readonly candidate: Candidate }
  | { readonly do: "look elsewhere" }
  | { readonly do: "choose by hand" };
type Item = vscode.QuickPickItem & { readonly choice?: Choice };

/** One search, that grows by the folders the person names. */
class Search {
  readonly #services: RelinkServices;
  readonly #folders: string[];

  constructor(services: RelinkServices) {
    this.#services = services;
    this.#folders = (vscode.workspace.workspaceFolders ?? [])
      .filter(({ uri }) => uri.scheme === "file")
      .map(({ uri }) => uri.fsPath);
  }

  async one(missing: Missing): Promise<readonly string[]> {
    if (this.#folders.length === 0) this.#folders.push(...missing.named.map((one) => folderOf(one)));
    for (;;) {
      const candidates = (await this.#look([missing]))?.get(missing);
      if (candidates === undefined) return [];
      const choice = await chooseFrom(missing, candidates, await this.#services.prints.of(missing.place));
      if (choice === undefined) return [];
      if (choice.do === "look elsewhere") {
        if (!(await this.#addFolder())) return [];
        continue;
      }
      const candidate = choice.do === "take" ? choice.candidate : await this.#byHand(missing);
      if (candidate === undefined) return [];
      const named = await confirmed(missing, candidate);
      return this.#change(named.map((naming) => ({ naming, file: candidate.file })));
    }
  }

  /** Several at once: what is proven is ticked, what only has the same name is offered. */
  async many(missing: readonly Missing[]): Promise<readonly string[]> {
    for (;;) {
      const found = await this.#look(missing);
      if (found === undefined) return [];
      const offered = missing.flatMap((one) =>
        (found.get(one) ?? []).slice(0, 1).map((best) => ({ one, best })),
      );
      const lost = missing.length - offered.length;
      const elsewhere = { label: "$(folder-opened) Look through another folder\u2026" };
      if (offered.length === 0) {
        const answer = await vscode.window.showQuickPick([elsewhere], {
          title: `None of ${missing.length} missing recordings was found`,
          placeHolder: "Neither by fingerprint nor by name in the folders looked through",
        });
        if (answer === undefined || !(await this.#addFolder())) return [];
        continue;
      }
      const items = offered.map(({ one, best }) => ({
        label: nameOf(one.place),
        description: headings[best.likeness],
        detail: `now ${vscode.workspace.asRelativePath(best.file)}; named in ${one.named.map(({ boutFile }) => nameOf(boutFile)).join(", ")}`,
        picked: best.likeness === "the same recording",
        one,
        best,
      }));
      const chosen = await vscode.window.showQuickPick(items, {
        canPickMany: true,
        title: `Change the bout files of these recordings?${lost === 0 ? "" : ` (${lost} more not found)`}`,
        placeHolder: "OK makes the bout files name the ticked recordings where they are now",
      });
      return this.#change(
        (chosen ?? []).flatMap(({ one, best }) => one.named.map((naming) => ({ naming, file: best.file }))),
      );
    }
  }

  /** Undefined where it was cancelled. */
  async #look(missing: readonly Missing[]) {
    const name = missing.length === 1 ? nameOf(missing[0]?.place ?? "") : `${missing.length} recordings`;
    return vscode.window.withProgress(
      { location: vscode.ProgressLocation.Notification, title: `Looking for ${name}`, cancellable: true },
      async (_, cancelled) => {
        const stop = new AbortController();
        cancelled.onCancellationRequested(() => stop.abort());
        const found = await candidatesFor(missing, this.#folders, this.#services.prints, stop.signal);
        return stop.signal.aborted ? undefined : found;
      },
    );
  }

  async #addFolder(): Promise<boolean> {
    const [folder] =
      (await vscode.window.showOpenDialog({
        title: "A folder to look through, with all folders in it",
        openLabel: "Look Here",
        canSelectFiles: false,
        canSelectFolders: true,
      })) ?? [];
    if (folder?.scheme !== "file") return false;
    this.#folders.push(folder.fsPath);
    return true;
  }

  /** What the person says it is; a recording known to be another one is taken only on a second word. */
  async #byHand(missing: Missing): Promise<Candidate | undefined> {
    const [chosen] =
      (await vscode.window.showOpenDialog({
        title: `The recording that was ${nameOf(missing.place)}`,
        openLabel: "Take",
        defaultUri: vscode.Uri.file(path.dirname(missing.named[0]?.boutFile ?? missing.place)),
      })) ?? [];
    if (chosen?.scheme !== "file") return undefined;
    const file = chosen.fsPath;
    const likeness = await likenessOf(file, missing, this.#services.prints);
    if (likeness !== "another recording") return { file, likeness };
    const all = "Name It All the Same";
    const answer = await vscode.window.showWarningMessage(
      `${nameOf(file)} is not the recording that was ${nameOf(missing.place)}.`,
      { modal: true, detail: "Its fingerprint is another one, so times in the log may not fit it." },
      all,
    );
    return answer === all ? { file, likeness } : undefined;
  }

  async #change(wanted: readonly { naming: Naming; file: string }[]): Promise<readonly string[]> {
    if (wanted.length === 0) return [];
    const changes = wanted.map(({ naming, file }): HeadChange => ({
      boutFile: naming.boutFile,
      plan: ({ recordings }) => {
        const written = writtenFor(naming, file);
        if (written === undefined)
          return failure(`${file} can't be named from this file; copy it into a folder beside it.`);
        const fields = recordings.flatMap((one, index) =>
          one.file === naming.written ? [{ path: ["recordings", index, "file"], value: written }] : [],
        );
        return fields.length === 0
          ? failure(`it does not name ${naming.written} any more.`)
          : success(fields);
      },
    }));
    return changeHeads(changes, this.#services.writer, "the recording where it is now");
  }
}

/** How the bout file is to name the recording: from its own folder. */
function writtenFor({ boutFile }: Naming, file: string): string | undefined {
  const uri = vscode.Uri.file(file);
  const written = relativePath(vscode.Uri.joinPath(vscode.Uri.file(boutFile), "..").path, uri.path);
  return written?.includes("\\") === true ? undefined : written;
}

function folderOf({ boutFile }: Naming): string {
  return path.dirname(boutFile);
}

async function chooseFrom(
  missing: Missing,
  candidates: readonly Candidate[],
  known: unknown,
): Promise<Choice | undefined> {
  const items: Item[] = [];
  let heading: Likeness | undefined;
  for (const candidate of candidates) {
    if (candidate.likeness !== heading) {
      heading = candidate.likeness;
      items.push({ label: headings[heading], kind: vscode.QuickPickItemKind.Separator });
    }
    items.push({
      label: nameOf(candidate.file),
      description: vscode.workspace.asRelativePath(path.dirname(candidate.file)),
      detail: missing.named
        .map(
          (one) =>
            `${nameOf(one.boutFile)}: \u201c${one.written}\u201d becomes \u201c${writtenFor(one, candidate.file) ?? candidate.file}\u201d`,
        )
        .join("; "),
      choice: { do: "take", candidate },
    });
  }
  items.push(
    {
      label: candidates.length === 0 ? "nothing found in these folders" : "or",
      kind: vscode.QuickPickItemKind.Separator,
    },
    { label: "$(folder-opened) Look through another folder\u2026", choice: { do: "look elsewhere" } },
    { label: "$(file-media) Choose the file by hand\u2026", choice: { do: "choose by hand" } },
  );
  const chosen = await vscode.window.showQuickPick(items, {
    title: `Where is ${nameOf(missing.place)} now?`,
    placeHolder:
      known === undefined
        ? "Its fingerprint is not known, so only files of the same name can be offered"
        : "Choosing one changes the bout file; Escape leaves it as it is",
    ignoreFocusOut: true,
  });
  return chosen?.choice;
}

/** Which of the bout files that name the recording are to be changed; asked where there are several. */
async function confirmed(missing: Missing, { file }: Candidate): Promise<readonly Naming[]> {
  if (missing.named.length === 1) return missing.named;
  const items = missing.named.map((naming) => ({
    label: nameOf(naming.boutFile),
    description: vscode.workspace.asRelativePath(folderOf(naming)),
    detail: `\u201c${naming.written}\u201d becomes \u201c${writtenFor(naming, file) ?? file}\u201d`,
    picked: true,
    naming,
  }));
  const chosen = await vscode.window.showQuickPick(items, {
    canPickMany: true,
    title: `${items.length} bout files name ${nameOf(missing.place)}: change these?`,
    ignoreFocusOut: true,
  });
  return (chosen ?? []).map(({ naming }) => naming);
}
