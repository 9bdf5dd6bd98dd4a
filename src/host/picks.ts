// Which phrases are picked in each bout? Worked out anew for each version of the text, told to its viewers, and kept
// under names in a file beside the bout file.

import { createHash } from "node:crypto";
import * as vscode from "vscode";
import type { Pick } from "../figures";
import {
  entryOf,
  noPicks,
  pickedPhrases,
  picksFileOf,
  picksText,
  pickInWords,
  pickSchema,
  readPicks,
  withoutPick,
  withPick,
  writtenEvidenceOf,
  type PhraseEvidence,
  type PicksFile,
  type SavedPick,
} from "../figures";
import type { ToHost } from "../messages/contract";
import type { Picked, PickParts } from "../messages/picks";
import type { BoutDocuments } from "./documents";
import type { View } from "./view";

interface Held {
  readonly pick: Pick;
  /** Name it was saved under; empty where it was changed since. */
  readonly saved: string;
}

const nothing: Held = { pick: {}, saved: "" };

export class Picks {
  readonly #documents: BoutDocuments;
  /** By address of the bout file: a viewer closed and opened again finds its pick. */
  readonly #held = new Map<string, Held>();

  constructor(documents: BoutDocuments) {
    this.#documents = documents;
  }

  /** What is picked in the newest text. */
  picked(document: vscode.TextDocument, open: boolean): Picked {
    const { pick, saved } = this.#of(document);
    const { study } = this.#documents.read(document);
    const found =
      study === undefined || isEmpty(pick) ? { entries: [], lost: [] } : pickedPhrases(study.ledger, pick);
    return {
      type: "picked",
      version: document.version,
      pick: pick as PickParts,
      saved,
      words: isEmpty(pick) ? "" : pickInWords(pick),
      entries: [...found.entries],
      lost: found.lost.map(lostInWords),
      open,
    };
  }

  /** Tells the viewer what is picked; `open` unfolds the panel. */
  show(view: View, open: boolean): void {
    view.send(this.picked(view.document, open));
  }

  /** Picks the phrases that fit. */
  ask(view: View, asked: PickParts): void {
    const read = pickSchema.safeParse(asked);
    if (read.success) this.#hold(view, { pick: read.data, saved: "" });
    else
      view.send({
        type: "say",
        severity: "error",
        message: `These can't be picked: ${read.error.issues[0]?.message ?? "unknown words"}.`,
      });
  }

  /** Picks a phrase by hand, or leaves it out: what was picked before becomes a list of phrases. */
  byHand(view: View, { version, index }: Extract<ToHost, { type: "pick by hand" }>): void {
    const { study } = this.#documents.read(view.document);
    const meant = view.itemSent(version, index);
    if (study === undefined || meant === undefined) return;
    const ledger = study.ledger;
    // Found again by kind and time: entries may have moved since the viewer was told of them.
    const row = ledger.rows.find(
      (one) =>
        one.kind === "phrase" &&
        one.entry.start === meant.at &&
        (version !== view.document.version || one.record.index === index),
    );
    if (row?.kind !== "phrase") return;
    if (!row.phrase.closed || !row.phrase.counts) {
      const message = row.phrase.closed
        ? "This phrase comes after the end of the bout, so it can't be picked."
        : "This phrase is not halted yet, so it can't be picked.";
      view.send({ type: "say", severity: "error", message });
      return;
    }
    const { pick } = this.#of(view.document);
    const now = isEmpty(pick) ? [] : pickedPhrases(ledger, pick).entries;
    const entry = row.record.index;
    const wanted = now.includes(entry)
      ? now.filter((one) => one !== entry)
      : [...now, entry].toSorted((one, other) => one - other);
    const phrases = wanted.flatMap((one) => evidenceOf(writtenEvidenceOf(ledger, one)));
    // Hand picks lost by an edit stay, so that they come back when it is undone.
    const lost = (pick.phrases ?? []).filter((one) => entryOf(ledger, one) === undefined);
    const all = [...phrases, ...lost];
    this.#hold(view, { pick: all.length === 0 ? {} : { phrases: all }, saved: "" });
  }

  /** Asks for a name and saves what is picked. */
  async save(view: View): Promise<void> {
    const { pick, saved } = this.#of(view.document);
    if (isEmpty(pick)) {
      void vscode.window.showInformationMessage("No phrase is picked, so there is nothing to save.");
      return;
    }
    const file = await this.#read(view.document);
    if (file === undefined) return;
    const name = await askForName(
      "Save the picked phrases",
      saved === "" ? pickInWords(pick).slice(0, 60) : saved,
    );
    if (name === undefined) return;
    if (name !== saved && file.saved.some((one) => one.name === name)) {
      const answer = "Replace It";
      const question = `A pick named “${name}” is saved already.`;
      if ((await vscode.window.showWarningMessage(question, { modal: true }, answer)) !== answer) return;
    }
    if (!(await this.#write(view.document, (now) => withPick(now, savedPick(view.document, name, pick)))))
      return;
    this.#hold(view, { pick, saved: name });
    view.send({
      type: "say",
      severity: "note",
      message: `Saved as “${name}” in ${baseName(picksUri(view.document))}.`,
    });
  }

  /** Offers the saved picks: to open, and by their buttons to rename or delete. */
  async openSaved(view: View): Promise<void> {
    const file = await this.#read(view.document);
    if (file === undefined) return;
    if (file.saved.length === 0) {
      void vscode.window.showInformationMessage("No pick of this bout is saved yet.");
      return;
    }
    const chosen = await chooseSaved(file);
    if (chosen === undefined) return;
    const { name, pick, hash, bout } = chosen.saved;
    switch (chosen.do) {
      case "open": {
        this.#hold(view, { pick, saved: name }, true);
        const { lost } = this.picked(view.document, false);
        if (lost.length > 0 && hash !== undefined && hash !== hashOf(view.document)) {
          const message = `${lost.length} of the phrases in “${name}” ${lost.length === 1 ? "is" : "are"} lost: ${bout ?? "the bout file"} has changed since they were picked by hand.`;
          void vscode.window.showWarningMessage(message);
        }
        break;
      }
      case "rename": {
        const others = file.saved.filter((one) => one.name !== name).map((one) => one.name);
        const renamed = await askForName(`Rename “${name}”`, name, others);
        if (renamed === undefined || renamed === name) return;
        const swap = (now: PicksFile): PicksFile => ({
          ...now,
          saved: now.saved.map((one) => (one.name === name ? { ...one, name: renamed } : one)),
        });
        const held = this.#of(view.document);
        if ((await this.#write(view.document, swap)) && held.saved === name)
          this.#hold(view, { ...held, saved: renamed });
        break;
      }
      case "delete": {
        const answer = "Delete";
        const question = `Delete the saved pick “${name}”? The bout file stays as it is.`;
        if ((await vscode.window.showWarningMessage(question, { modal: true }, answer)) !== answer) return;
        const held = this.#of(view.document);
        if ((await this.#write(view.document, (now) => withoutPick(now, name))) && held.saved === name)
          this.#hold(view, { ...held, saved: "" });
        break;
      }
    }
  }

  #of(document: vscode.TextDocument): Held {
    return this.#held.get(document.uri.toString()) ?? nothing;
  }

  #hold(view: View, held: Held, open = false): void {
    this.#held.set(view.document.uri.toString(), held);
    this.show(view, open);
  }

  /** The saved picks; none where there is no file; undefined, and said, where it can't be used. */
  async #read(document: vscode.TextDocument): Promise<PicksFile | undefined> {
    const uri = picksUri(document);
    let text: string;
    try {
      text = new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
    } catch (error) {
      if (error instanceof vscode.FileSystemError && error.code === "FileNotFound") return noPicks;
      void vscode.window.showErrorMessage(`${baseName(uri)} can't be read: ${reasonOf(error)}`);
      return undefined;
    }
    const read = readPicks(text);
    if (read.ok) return read.value;
    const answer = "Open It";
    void vscode.window
      .showErrorMessage(
        `${baseName(uri)} can't be used: ${read.problem}. It stays as it is; put it right by hand.`,
        answer,
      )
      .then((said) => {
        if (said === answer) void vscode.window.showTextDocument(uri);
      });
    return undefined;
  }

  /** Changes the file as it is now: it may have been changed while somebody was asked. */
  async #write(document: vscode.TextDocument, change: (now: PicksFile) => PicksFile): Promise<boolean> {
    const now = await this.#read(document);
    if (now === undefined) return false;
    const uri = picksUri(document);
    try {
      await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(picksText(change(now))));
      return true;
    } catch (error) {
      void vscode.window.showErrorMessage(`${baseName(uri)} can't be written: ${reasonOf(error)}`);
      return false;
    }
  }
}

export function isEmpty(pick: Pick): boolean {
  return Object.values(pick).every((part) => part === undefined);
}

function evidenceOf(evidence: ReturnType<typeof writtenEvidenceOf>): PhraseEvidence[] {
  if (evidence?.kind !== "phrase") return [];
  const { at, nth } = evidence;
  return [{ kind: "phrase", at, ...(nth === 0 ? {} : { nth }) }];
}

function lostInWords({ at, nth = 0 }: PhraseEvidence): string {
  return `the ${nth === 0 ? "" : `${nth + 1}th `}phrase at ${at} is not there any more, or not halted.`;
}

function savedPick(document: vscode.TextDocument, name: string, pick: Pick): SavedPick {
  return pick.phrases === undefined
    ? { name, pick }
    : { name, bout: baseName(document.uri), hash: hashOf(document), pick };
}

function hashOf(document: vscode.TextDocument): string {
  return createHash("sha256").update(document.getText()).digest("hex");
}

function picksUri({ uri }: vscode.TextDocument): vscode.Uri {
  return uri.with({ path: picksFileOf(uri.path) });
}

function baseName({ path }: vscode.Uri): string {
  return path.slice(path.lastIndexOf("/") + 1);
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

async function askForName(
  title: string,
  value: string,
  taken: readonly string[] = [],
): Promise<string | undefined> {
  const name = await vscode.window.showInputBox({
    title,
    prompt: "A name for these phrases",
    value,
    validateInput: (typed) => {
      const trimmed = typed.trim();
      if (trimmed === "") return "A pick needs a name.";
      if (trimmed.length > 100) return "A name has at most 100 letters.";
      return taken.includes(trimmed) ? `“${trimmed}” is taken.` : undefined;
    },
  });
  return name?.trim();
}

type Chosen = { readonly do: "open" | "rename" | "delete"; readonly saved: SavedPick };

function chooseSaved({ saved }: PicksFile): Promise<Chosen | undefined> {
  const list = vscode.window.createQuickPick<vscode.QuickPickItem & { readonly saved: SavedPick }>();
  const rename = { iconPath: new vscode.ThemeIcon("edit"), tooltip: "Rename" };
  const remove = { iconPath: new vscode.ThemeIcon("trash"), tooltip: "Delete" };
  list.title = "Saved picks";
  list.placeholder = "Choose one to open it, or rename or delete one by its buttons";
  list.items = saved.map((one) => ({
    label: one.name,
    description: pickInWords(one.pick),
    buttons: [rename, remove],
    saved: one,
  }));
  return new Promise((resolve) => {
    const done = (chosen: Chosen | undefined) => {
      resolve(chosen);
      list.dispose();
    };
    list.onDidAccept(() => {
      const [item] = list.selectedItems;
      done(item === undefined ? undefined : { do: "open", saved: item.saved });
    });
    list.onDidTriggerItemButton(({ item, button }) =>
      done({ do: button === rename ? "rename" : "delete", saved: item.saved }),
    );
    list.onDidHide(() => done(undefined));
    list.show();
  });
}
