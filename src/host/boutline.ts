// The parts of Boutline put together, and what every command of the table does.

import { readFile } from "node:fs/promises";
import path from "node:path";
import { parse } from "jsonc-parser";
import * as vscode from "vscode";
import { commandById, type Command } from "../messages/commands";
import { usualCutting } from "../messages/picks";
import type { BoutRow } from "../shelf";
import type { ClipsWanted } from "./clips";
import { isBoutFile } from "./bout-file";
import { boutsMeant, suggestionMeant } from "./bout-nodes";
import { boundKeys, changedKeys } from "./bound-keys";
import { Diagnostics } from "./diagnostics";
import { BoutDocuments } from "./documents";
import { EditionDiagnostics } from "./edition-diagnostics";
import { EditionFiles } from "./edition-files";
import { keysPage } from "./keys-page";
import { demoCopy } from "./open-demo";
import { Picks } from "./picks";
import { PrintRound } from "./print-round";
import { Prints } from "./prints";
import { ReadingAids } from "./reading-aids";
import { Recordings } from "./recordings";
import { Remedies } from "./remedies";
import { rulePage } from "./rule-pages";
import type { SheetServices } from "./sheet";
import { Tagger } from "./tagger";
import { TextBeside } from "./text-beside";
import type { View } from "./view";
import { Viewers } from "./viewers";
import type { WalkServices } from "./walk";
import { Writer } from "./writer";
import { timeOf } from "../bout/written";

type Arguments = readonly unknown[];

/** The view "Bouts", as far as what is done with its bouts needs it. */
export interface Shelved {
  /** All bouts of the folders open here. */
  readonly bouts: () => Promise<readonly BoutRow[]>;
  /** The rows selected in the view. */
  readonly selected: () => readonly unknown[];
}

export class Boutline implements vscode.Disposable {
  readonly viewers: Viewers;
  readonly #context: vscode.ExtensionContext;
  readonly #editions = new EditionFiles();
  readonly #documents = new BoutDocuments(this.#editions);
  readonly #writer = new Writer(this.#documents);
  readonly #tagger = new Tagger(this.#writer);
  readonly #picks = new Picks(this.#documents);
  readonly #text: TextBeside;
  readonly #recordings: Recordings;
  readonly #shelved: Shelved;
  readonly #prints: Prints;
  readonly #round: PrintRound;
  readonly #parts: readonly { dispose(): void }[];

  constructor(context: vscode.ExtensionContext, shelved: Shelved) {
    this.#context = context;
    this.#shelved = shelved;
    this.#prints = new Prints(path.join(context.globalStorageUri.fsPath, "prints.json"));
    this.#text = new TextBeside(context.extensionUri, this.#documents);
    const recordings = new Recordings(context, (place, real) => void this.#prints.see(place, real));
    this.#recordings = recordings;
    this.#round = new PrintRound({
      prints: this.#prints,
      trusted: () => vscode.workspace.isTrusted,
      find: async (boutFile, written) => {
        const found = await recordings.find(vscode.Uri.file(boutFile), written);
        return found.is === "there" ? found.real.fsPath : undefined;
      },
    });
    this.viewers = new Viewers(context.extensionUri, {
      documents: this.#documents,
      tagger: this.#tagger,
      text: this.#text,
      recordings,
      picks: this.#picks,
      clips: (view, message) => void this.#clips(view, message),
      findAgain: async (document, file) => {
        const { findOneAgain } = await import("./relink");
        await findOneAgain(document.uri.fsPath, file, this.#relinkServices());
      },
      keys: async () => changedKeys(await userKeys(context)),
      press: (view, { command: id, stamp }) => {
        const command = commandById(id);
        if (command !== undefined) void this.#speakTo(view, command, () => stamp.at);
      },
    });
    this.#parts = [
      this.#text,
      recordings,
      this.viewers,
      this.#editions,
      new Diagnostics(this.#documents, this.#editions.onDidChange),
      new EditionDiagnostics(this.#editions),
      new Remedies(this.#documents, this.#writer),
      new ReadingAids(this.#documents, this.#editions.onDidChange),
    ];
  }

  /** Ends once no process runs any more. */
  async end(): Promise<void> {
    this.#round.stop();
    await Promise.all([this.#recordings.end(), this.#prints.save()]);
  }

  /** The view has listed these bouts: gets to know their recordings, so that they are known again when they move. */
  async listed(bouts: readonly BoutRow[]): Promise<void> {
    await this.#round.over(bouts);
  }

  dispose(): void {
    for (const part of this.#parts) part.dispose();
  }

  /** Runs a command of the table. */
  async run(id: string, args: Arguments): Promise<void> {
    const command = commandById(id);
    if (command === undefined) return;
    if ("host" in command.does) {
      await this.#hostCommands[command.does.host]?.(args);
      return;
    }
    const view = this.viewers.current;
    if (view === undefined)
      void vscode.window.showInformationMessage(
        "Open a bout file in the viewer first; this key speaks to it.",
      );
    else {
      const key = keyOf(args[0]);
      if (key !== null) view.keyReturned(id, key);
      await this.#speakTo(view, command, () => view.frameOnScreen(key));
    }
  }

  /** The help page as Markdown, with the keys as they are bound now. */
  async keysPage(): Promise<string> {
    return keysPage(boundKeys(await userKeys(this.#context)));
  }

  /** The page of the rule that an address names, as Markdown. */
  async rulePage(uri: vscode.Uri): Promise<string> {
    return rulePage(this.#context.extensionUri, uri);
  }

  async #speakTo(
    view: View,
    { does }: Command,
    frame: () => Promise<number | undefined> | number,
  ): Promise<void> {
    if ("tag" in does) await this.#tagger.tag(view, does.tag, frame());
    else if ("transport" in does) view.send({ type: "transport", action: does.transport });
    else await this.#hostCommands[does.host]?.([]);
  }

  readonly #hostCommands: Readonly<Record<string, (args: Arguments) => Promise<unknown>>> = {
    openDemo: async () => {
      await this.viewers.show(await demoCopy(this.#context, false));
      const afresh = "Start Afresh";
      void vscode.window
        .showInformationMessage("This is a copy of the demo: change what you like.", afresh)
        .then(async (answer) => {
          if (answer === afresh) await this.viewers.show(await demoCopy(this.#context, true));
        });
    },
    newBout: async ([one, all]) => {
      const chosen = Array.isArray(all) ? all.filter(isUri) : isUri(one) ? [one] : [];
      const { newBout } = await import("./new-bout");
      const made = await newBout(chosen, await this.#shelved.bouts());
      if (made !== undefined) await this.viewers.show(made);
    },
    findRecording: async (args) => {
      const { findAgain } = await import("./relink");
      // Run without a row it is about all bouts, whatever is selected.
      const chosen = args[0] === undefined ? undefined : await this.#boutsMeant(args);
      const changed = await findAgain(chosen, this.#relinkServices());
      const [only, ...others] = changed;
      if (only !== undefined && others.length === 0) await this.viewers.show(vscode.Uri.file(only));
    },
    compareBouts: async (args) => this.#compare(await this.#boutsMeant(args)),
    compareWith: async (args) => {
      const [bout, ...others] = (await this.#boutsMeant(args)) ?? [];
      await this.#compare(bout === undefined || others.length > 0 ? undefined : [bout]);
    },
    sameId: async ([node]) => {
      const suggestion = suggestionMeant(node);
      if (suggestion?.is !== "one person") return;
      const { giveSameId } = await import("./same-id");
      await giveSameId(suggestion, await this.#shelved.bouts(), this.#writer);
    },
    openViewer: async ([uri]) => {
      const wanted = isUri(uri) ? uri : vscode.window.activeTextEditor?.document.uri;
      if (wanted !== undefined) await this.viewers.show(wanted);
    },
    openText: async ([uri]) => {
      const wanted = isUri(uri) ? uri : (uriOfBout(uri) ?? this.viewers.current?.document.uri);
      if (wanted !== undefined) await this.#text.open(wanted, false);
    },
    showEntry: ([where]) => this.#showEntry(lineOf(where)),
    queryPhrases: async () => {
      const { askPhrases } = await import("./query");
      await askPhrases(this.#context, this.#sheetServices());
    },
    briefOnFencer: async ([node]) => {
      const { openBrief } = await import("./brief");
      await openBrief(this.#context, this.#walkServices(), fencerOfGroup(node));
    },
    showSheet: ([what]) => this.#showSheet(isUri(what) ? what : uriOfBout(what)),
    choosePhrases: async () => this.#withView((view) => this.#picks.show(view, true)),
    savePick: async () => this.#withView((view) => this.#picks.save(view)),
    openPick: async () => this.#withView((view) => this.#picks.openSaved(view)),
    cutClips: async () => this.#withView((view) => this.#clips(view)),
    makeReel: async () =>
      this.#withView((view) => this.#clips(view, { do: "preview reel", cutting: usualCutting })),
    makeCopy: () => this.viewers.makeCopy(),
    clearCopies: () => this.#recordings.clearCopies(),
    showFilming: async () => {
      const page = vscode.Uri.joinPath(this.#context.extensionUri, "media", "filming.md");
      await vscode.commands.executeCommand("markdown.showPreview", page);
    },
    showKeys: async () => {
      // Each time under another address: a preview keeps what it has read from one.
      const uri = vscode.Uri.parse(`boutline-keys:/${Date.now()}/Keys and commands.md`);
      await vscode.commands.executeCommand("markdown.showPreview", uri);
    },
  };

  /** The bouts of the rows a command was run on, or of the file it was given; undefined where it was given none. */
  async #boutsMeant(args: Arguments): Promise<readonly BoutRow[] | undefined> {
    const [first] = args;
    if (isUri(first)) return (await this.#shelved.bouts()).filter(({ file }) => file === first.fsPath);
    const selected = this.#shelved.selected();
    const bouts = boutsMeant(first === undefined ? [selected[0], selected] : args);
    return bouts.length === 0 ? undefined : bouts;
  }

  async #compare(bouts: readonly BoutRow[] | undefined): Promise<void> {
    const { compare } = await import("./compare");
    await compare(this.#context, bouts, await this.#shelved.bouts(), this.#comparisonServices());
  }

  /** Fills a comparison that was open when the window was closed. */
  async restoreComparison(panel: vscode.WebviewPanel, kept: unknown): Promise<void> {
    const { restoreComparison } = await import("./compare");
    await restoreComparison(this.#context, panel, kept, this.#comparisonServices());
  }

  #comparisonServices(): SheetServices {
    return {
      ...this.#sheetServices(),
      play: (of, title, stretches) =>
        this.viewers.tell(
          of.uri,
          { type: "play", title, stretches: [...stretches] },
          { ...beside, withText: false },
        ),
    };
  }

  #relinkServices() {
    return { writer: this.#writer, prints: this.#prints, bouts: this.#shelved.bouts };
  }

  async #withView(does: (view: View) => Promise<void> | void): Promise<void> {
    const view = this.viewers.current;
    if (view === undefined)
      void vscode.window.showInformationMessage(
        "Open a bout file in the viewer first; phrases are picked there.",
      );
    else await does(view);
  }

  /** Shows what would be cut of the picked phrases, or cuts it. */
  async #clips(view: View, wanted: ClipsWanted = { do: "preview", cutting: usualCutting }): Promise<void> {
    const { clips } = await import("./clips");
    await clips(this.#context, view, wanted, {
      documents: this.#documents,
      recordings: this.#recordings,
      picks: this.#picks,
    });
  }

  /** Takes the viewer to the entry on a line (from 0) of the text in front; without one, to that at the cursor. */
  async #showEntry(line: number | undefined): Promise<void> {
    const editor = vscode.window.activeTextEditor;
    if (editor === undefined || !isBoutFile(editor.document)) return;
    const record = this.#text.entryAt(editor.document, line ?? editor.selection.active.line);
    if (record === undefined)
      void vscode.window.showInformationMessage("There is no entry of the log at or before this line.");
    else await this.viewers.tell(editor.document.uri, { type: "show", at: timeOf(record.entry) }, beside);
  }

  async #showSheet(uri: vscode.Uri | undefined): Promise<void> {
    const document = await this.#documentMeant(uri);
    if (document === undefined) return;
    const { openSheet } = await import("./sheet");
    openSheet(this.#context, document, this.#sheetServices());
  }

  /** Fills a study sheet that was open when the window was closed. */
  async restoreSheet(panel: vscode.WebviewPanel, kept: unknown): Promise<void> {
    const { restoreSheet } = await import("./sheet");
    await restoreSheet(this.#context, panel, kept, this.#sheetServices());
  }

  /** Fills a brief that was open when the window was closed. */
  async restoreBrief(panel: vscode.WebviewPanel, kept: unknown): Promise<void> {
    const { restoreBrief } = await import("./brief");
    restoreBrief(this.#context, panel, kept, this.#walkServices());
  }

  #walkServices(): WalkServices {
    return { documents: this.#documents, recordings: this.#recordings, viewers: this.viewers };
  }

  #sheetServices(): SheetServices {
    return {
      documents: this.#documents,
      play: (of, title, stretches) =>
        this.viewers.tell(of.uri, { type: "play", title, stretches: [...stretches] }),
      openText: (of, line, column) => this.#text.openAt(of.uri, line, column),
    };
  }

  /** The bout file given, else that of the text or the viewer in front. */
  async #documentMeant(uri: vscode.Uri | undefined): Promise<vscode.TextDocument | undefined> {
    if (uri !== undefined) return vscode.workspace.openTextDocument(uri);
    const inFront = vscode.window.activeTextEditor?.document;
    return inFront !== undefined && isBoutFile(inFront) ? inFront : this.viewers.current?.document;
  }
}

/** What the user's keybindings.json says; it lies beside the folder extensions keep their files in. */
async function userKeys({ globalStorageUri }: vscode.ExtensionContext): Promise<unknown> {
  if (globalStorageUri.scheme !== "file") return undefined;
  try {
    const file = path.join(globalStorageUri.fsPath, "..", "..", "keybindings.json");
    return parse(await readFile(file, "utf8"), [], { allowTrailingComma: true });
  } catch {
    return undefined;
  }
}

/** The position of the key a command was run by, which its keybinding passes along; null from a menu or the palette. */
function keyOf(args: unknown): string | null {
  return typeof args === "object" && args !== null && "key" in args && typeof args.key === "string"
    ? args.key
    : null;
}

/** The line (from 0) a command of the line numbers' menu was run on. */
function lineOf(where: unknown): number | undefined {
  return typeof where === "object" &&
    where !== null &&
    "lineNumber" in where &&
    typeof where.lineNumber === "number"
    ? where.lineNumber - 1
    : undefined;
}

/** The bout file of a row of the view "Bouts". */
function uriOfBout(node: unknown): vscode.Uri | undefined {
  if (typeof node !== "object" || node === null || !("bout" in node)) return undefined;
  const { bout } = node;
  return typeof bout === "object" && bout !== null && "file" in bout && typeof bout.file === "string"
    ? vscode.Uri.file(bout.file)
    : undefined;
}

const beside = { viewColumn: vscode.ViewColumn.Beside } as const;

/** The id of the fencer of a group of the view "Bouts". */
function fencerOfGroup(node: unknown): string | undefined {
  if (typeof node !== "object" || node === null || !("group" in node)) return undefined;
  const { group } = node;
  return typeof group === "object" && group !== null && "fencer" in group && typeof group.fencer === "string"
    ? group.fencer
    : undefined;
}

function isUri(value: unknown): value is vscode.Uri {
  return value instanceof vscode.Uri;
}
