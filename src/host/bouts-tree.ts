// The view "Bouts": the shelf of the folders open here, grouped and filtered, brought up to date as files change.

import { stat } from "node:fs/promises";
import path from "node:path";
import * as vscode from "vscode";
import { counted } from "../pages/numbers";
import { Shelf, type BoutRow, type ShelfRow } from "../shelf";
import { endingOf, recordingEndings } from "../shelf/recordings";
import { boutFiles } from "./bout-file";
import { boutBadges, suggestionMeant, type BoutNode } from "./bout-nodes";
import { filtered, groupings, groupsOf, remarksOf, type Grouping, type Remark } from "./bouts-view";

export { itemOf, type BoutNode } from "./bout-nodes";

/** What the view is to the tree. */
export type BoutsView = Pick<vscode.TreeView<unknown>, "description" | "message" | "onDidChangeVisibility">;

export interface BoutsTreeOptions {
  readonly context: Pick<
    vscode.ExtensionContext,
    "extensionUri" | "extension" | "storageUri" | "workspaceState"
  >;
  readonly view: BoutsView;
  /** The rows are to be asked for again. */
  readonly refresh: () => void;
  /** The folders were looked through, or some of the shelf was read again. */
  readonly listed: (bouts: readonly BoutRow[]) => void;
}

/** Milliseconds in which changes of bout files are gathered. */
const pause = 60;
/** The same for what makes the folders be looked through again. */
const longPause = 400;
const groupingKey = "boutline.bouts.grouping";
const untrusted =
  "This folder is not trusted: its bouts can be read and tagged, but no program is started and recordings are not looked at ahead.";
/** Groups show their bouts at once while no more than these are left by words. */
const few = 40;

export class BoutsTree implements vscode.Disposable {
  readonly #options: BoutsTreeOptions;
  readonly #subscriptions: vscode.Disposable[] = [];
  readonly #waiting = new Set<string>();
  /** Suggestions of this session that somebody does not want to see. */
  readonly #dismissed = new Set<string>();
  #timer: NodeJS.Timeout | undefined;
  #again: NodeJS.Timeout | undefined;
  #saving: NodeJS.Timeout | undefined;
  #shelf: Shelf | undefined;
  #stop = new AbortController();
  #ready: Promise<void> | undefined;
  #remarks: readonly Remark[] | undefined;
  #words = "";

  constructor(options: BoutsTreeOptions) {
    this.#options = options;
    const { workspace } = vscode;
    const watch = (pattern: string, ignoreChanges: boolean) => {
      const watcher = workspace.createFileSystemWatcher(pattern, false, ignoreChanges, false);
      this.#subscriptions.push(watcher);
      return watcher;
    };
    const bouts = watch(boutFiles.pattern, false);
    const anything = watch("**/*", true);
    const editions = watch("**/*.edition.json", false);
    const note = (uri: vscode.Uri) => this.#note(uri);
    const lookAgain = () => this.#lookAgainSoon();
    this.#subscriptions.push(
      boutBadges(),
      bouts.onDidCreate(note),
      bouts.onDidChange(note),
      bouts.onDidDelete(note),
      editions.onDidCreate(lookAgain),
      editions.onDidChange(lookAgain),
      editions.onDidDelete(lookAgain),
      anything.onDidCreate((uri) => void this.#came(uri)),
      anything.onDidDelete((uri) => this.#went(uri)),
      workspace.onDidChangeWorkspaceFolders(() => this.again()),
      workspace.onDidGrantWorkspaceTrust(lookAgain),
      // What changes on a disk that is not watched is seen when somebody looks.
      options.view.onDidChangeVisibility(({ visible }) => {
        if (visible) this.#lookAgainSoon();
      }),
    );
  }

  dispose(): void {
    this.#stop.abort();
    for (const timer of [this.#timer, this.#again, this.#saving]) clearTimeout(timer);
    for (const one of this.#subscriptions) one.dispose();
  }

  /** Looks through the folders afresh. */
  again(): void {
    this.#stop.abort();
    this.#stop = new AbortController();
    this.#shelf = undefined;
    this.#ready = undefined;
    this.#changed();
  }

  /** All bouts as they are on the disk now, whatever the view shows of them. */
  async bouts(): Promise<readonly BoutRow[]> {
    await this.#read();
    await this.#shelf?.refresh();
    return this.#shelf?.bouts ?? [];
  }

  async children(node: BoutNode | undefined): Promise<readonly BoutNode[]> {
    await this.#read();
    switch (node?.is) {
      case "group":
        return node.group.bouts.map((bout) => ({ is: "bout", bout, under: node.group.key }));
      case "remarks":
        return node.remarks.map((remark) => ({ is: "remark", remark }));
      case "remark":
        return (node.remark.suggestion?.bouts ?? []).map((bout) => ({
          is: "bout",
          bout,
          under: node.remark.suggestion?.key ?? "",
        }));
      case "bout":
        return [];
      case undefined:
        return this.#top();
    }
  }

  #top(): readonly BoutNode[] {
    const { rows = [], bouts = [], leftOut = [] } = this.#shelf ?? {};
    const shown = filtered(bouts, this.#words);
    const isFiltered = this.#words !== "";
    const remarks = isFiltered ? [] : (this.#remarks ??= remarksOf(rows, leftOut, this.#dismissed));
    const { view } = this.#options;
    view.description = `by ${this.#grouping}`;
    view.message = [
      ...(vscode.workspace.isTrusted || rows.length === 0 ? [] : [untrusted]),
      ...(isFiltered
        ? [`${shown.length} of ${counted(bouts.length, "bout")} with \u201c${this.#words}\u201d`]
        : []),
    ].join("\n");
    const open = isFiltered && shown.length <= few;
    return [
      ...groupsOf(shown, this.#grouping).map((group): BoutNode => ({ is: "group", group, open })),
      ...(remarks.length === 0 ? [] : [{ is: "remarks", remarks } as const]),
    ];
  }

  async chooseGrouping(): Promise<void> {
    const items = groupings.map((grouping) => ({
      label: grouping,
      description: grouping === this.#grouping ? "now" : "",
    }));
    const chosen = await vscode.window.showQuickPick(items, { title: "Group the bouts by" });
    if (chosen !== undefined) await this.group(chosen.label);
  }

  async group(grouping: Grouping): Promise<void> {
    await this.#options.context.workspaceState.update(groupingKey, grouping);
    this.#options.refresh();
  }

  /** The view follows what is typed; Escape leaves it as it was. */
  async chooseWords(): Promise<void> {
    const before = this.#words;
    const box = vscode.window.createInputBox();
    box.title = "Show the bouts with all these words";
    box.prompt = "Names, clubs, events, rounds, days, weapons; empty shows all";
    box.value = before;
    let timer: NodeJS.Timeout | undefined;
    const kept = await new Promise<boolean>((resolve) => {
      box.onDidChangeValue((words) => {
        clearTimeout(timer);
        timer = setTimeout(() => this.filter(words), pause);
      });
      box.onDidAccept(() => resolve(true));
      box.onDidHide(() => resolve(false));
      box.show();
    });
    clearTimeout(timer);
    this.filter(kept ? box.value : before);
    box.dispose();
  }

  /** Leaves the bouts that have all these words; none shows all. */
  filter(words: string): void {
    if (this.#words === words.trim()) return;
    this.#words = words.trim();
    void vscode.commands.executeCommand("setContext", "boutline.boutsFiltered", this.#words !== "");
    this.#options.refresh();
  }

  /** Leaves a suggestion away until the window is opened again. */
  dismiss(node: unknown): void {
    const suggestion = suggestionMeant(node);
    if (suggestion === undefined) return;
    this.#dismissed.add(suggestion.key);
    this.#changed();
  }

  get #grouping(): Grouping {
    const kept = this.#options.context.workspaceState.get<string>(groupingKey);
    return groupings.find((grouping) => grouping === kept) ?? "event";
  }

  async #read(): Promise<void> {
    await (this.#ready ??= this.#readAll());
  }

  async #readAll(): Promise<void> {
    const folders = (vscode.workspace.workspaceFolders ?? []).filter(({ uri }) => uri.scheme === "file");
    if (folders.length === 0) return;
    const { extensionUri, extension, storageUri } = this.#options.context;
    const { version } = extension.packageJSON as { readonly version: string };
    const shelf = new Shelf({
      folders: folders.map(({ uri }) => uri.fsPath),
      worker: vscode.Uri.joinPath(extensionUri, "dist", "shelf-worker.js").fsPath,
      cache:
        storageUri === undefined ? undefined : { file: path.join(storageUri.fsPath, "shelf.json"), version },
      signal: this.#stop.signal,
    });
    this.#shelf = shelf;
    await shelf.recall();
    const recalled = shelf.rows;
    const looking = this.#lookThrough(shelf, recalled);
    // What was there the last time shows at once; a slow disk may take long to be looked through.
    if (recalled.length === 0) await looking;
  }

  async #lookThrough(shelf: Shelf, before: readonly ShelfRow[]): Promise<void> {
    await vscode.window.withProgress({ location: { viewId: "boutline.bouts" } }, () => shelf.refresh());
    if (this.#shelf !== shelf) return;
    this.#remarks = undefined;
    this.#options.listed(shelf.bouts);
    this.#saveSoon();
    const { rows } = shelf;
    const isAsBefore = rows.length === before.length && rows.every((row, index) => row === before[index]);
    // Rows of the last time were drawn meanwhile, without what was left out.
    if (before.length > 0 && !(isAsBefore && shelf.leftOut.length === 0)) this.#options.refresh();
  }

  #note({ scheme, fsPath }: vscode.Uri): void {
    if (scheme !== "file" || this.#shelf === undefined) return;
    this.#waiting.add(fsPath);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      const files = [...this.#waiting];
      this.#waiting.clear();
      void this.#update((shelf) => shelf.changed(files));
    }, pause);
  }

  /** A folder that comes is told by its own name alone; a recording may be one that was missed. */
  async #came({ scheme, fsPath }: vscode.Uri): Promise<void> {
    if (scheme !== "file" || this.#shelf === undefined) return;
    const about = recordingEndings.includes(endingOf(fsPath))
      ? "recording"
      : await stat(fsPath).catch(() => undefined);
    if (about === "recording" || about?.isDirectory() === true) this.#lookAgainSoon();
  }

  /** So is one that goes, with all that was in it. */
  #went({ scheme, fsPath }: vscode.Uri): void {
    if (scheme !== "file" || this.#shelf === undefined) return;
    const within = `${fsPath}${path.sep}`;
    const held = () =>
      this.#shelf?.rows.some(
        (row) =>
          row.file.startsWith(within) ||
          (row.is === "bout" &&
            row.recordings.some(({ file }) => path.join(path.dirname(row.file), file).startsWith(within))),
      ) === true;
    if (recordingEndings.includes(endingOf(fsPath)) || held()) this.#lookAgainSoon();
  }

  #lookAgainSoon(): void {
    if (this.#shelf === undefined) return;
    clearTimeout(this.#again);
    this.#again = setTimeout(() => void this.#update((shelf) => shelf.refresh()), longPause);
  }

  async #update(work: (shelf: Shelf) => Promise<unknown>): Promise<void> {
    const shelf = this.#shelf;
    if (shelf === undefined) return;
    await work(shelf);
    if (this.#shelf !== shelf) return;
    this.#changed();
    this.#options.listed(shelf.bouts);
    this.#saveSoon();
  }

  #changed(): void {
    this.#remarks = undefined;
    this.#options.refresh();
  }

  #saveSoon(): void {
    clearTimeout(this.#saving);
    this.#saving = setTimeout(() => void this.#shelf?.save(), 2000);
  }
}
