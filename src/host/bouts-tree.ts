// The view "Bouts": the shelf of the folders open here, grouped and filtered, brought up to date as files change.

import path from "node:path";
import * as vscode from "vscode";
import { weaponName } from "../bout/words";
import { Shelf, type BoutRow } from "../shelf";
import { boutFiles } from "./bout-file";
import {
  boutDescription,
  boutLabel,
  counted,
  filtered,
  groupings,
  groupsOf,
  hasMissing,
  remarksOf,
  toDo,
  type BoutGroup,
  type Grouping,
  type Remark,
} from "./bouts-view";

export type BoutNode =
  | { readonly is: "group"; readonly group: BoutGroup }
  | { readonly is: "bout"; readonly bout: BoutRow; readonly under: string }
  | { readonly is: "remarks"; readonly remarks: readonly Remark[] }
  | { readonly is: "remark"; readonly remark: Remark };

/** Milliseconds in which changes are gathered. */
const pause = 60;
const groupingKey = "boutline.bouts.grouping";

export class BoutsTree implements vscode.Disposable {
  readonly #context: vscode.ExtensionContext;
  readonly #view: vscode.TreeView<unknown>;
  readonly #refresh: () => void;
  readonly #subscriptions: vscode.Disposable[] = [];
  readonly #waiting = new Set<string>();
  #timer: NodeJS.Timeout | undefined;
  #saving: NodeJS.Timeout | undefined;
  #shelf: Shelf | undefined;
  #ready: Promise<void> | undefined;
  #words = "";

  constructor(context: vscode.ExtensionContext, view: vscode.TreeView<unknown>, refresh: () => void) {
    this.#context = context;
    this.#view = view;
    this.#refresh = refresh;
    const watcher = vscode.workspace.createFileSystemWatcher(boutFiles.pattern);
    const note = (uri: vscode.Uri) => this.#note(uri);
    this.#subscriptions.push(
      watcher,
      watcher.onDidCreate(note),
      watcher.onDidChange(note),
      watcher.onDidDelete(note),
      vscode.workspace.onDidChangeWorkspaceFolders(() => this.again()),
    );
  }

  dispose(): void {
    clearTimeout(this.#timer);
    clearTimeout(this.#saving);
    for (const one of this.#subscriptions) one.dispose();
  }

  /** Looks through the folders again. */
  again(): void {
    this.#shelf = undefined;
    this.#ready = undefined;
    this.#refresh();
  }

  async children(node: BoutNode | undefined): Promise<readonly BoutNode[]> {
    await (this.#ready ??= this.#read());
    if (node?.is === "group")
      return node.group.bouts.map((bout) => ({ is: "bout", bout, under: node.group.key }));
    if (node?.is === "remarks") return node.remarks.map((remark) => ({ is: "remark", remark }));
    if (node !== undefined) return [];
    const { rows = [], bouts = [], leftOut = [] } = this.#shelf ?? {};
    const shown = filtered(bouts, this.#words);
    const remarks = this.#words === "" ? remarksOf(rows, leftOut) : [];
    this.#view.description = `by ${this.#grouping}`;
    this.#view.message =
      this.#words === "" ? "" : `${shown.length} of ${counted(bouts.length, "bout")} with "${this.#words}"`;
    return [
      ...groupsOf(shown, this.#grouping).map((group): BoutNode => ({ is: "group", group })),
      ...(remarks.length === 0 ? [] : [{ is: "remarks", remarks } as const]),
    ];
  }

  async chooseGrouping(): Promise<void> {
    const items = groupings.map((grouping) => ({
      label: grouping,
      description: grouping === this.#grouping ? "now" : "",
    }));
    const chosen = await vscode.window.showQuickPick(items, { title: "Group the bouts by" });
    if (chosen === undefined) return;
    await this.#context.workspaceState.update(groupingKey, chosen.label);
    this.#refresh();
  }

  async chooseWords(): Promise<void> {
    const words = await vscode.window.showInputBox({
      title: "Show the bouts with all these words",
      prompt: "Names, clubs, events, rounds, days, weapons; empty shows all",
      value: this.#words,
    });
    if (words === undefined) return;
    this.#words = words.trim();
    this.#refresh();
  }

  get #grouping(): Grouping {
    const kept = this.#context.workspaceState.get<string>(groupingKey);
    return groupings.find((grouping) => grouping === kept) ?? "event";
  }

  async #read(): Promise<void> {
    const folders = (vscode.workspace.workspaceFolders ?? []).filter(({ uri }) => uri.scheme === "file");
    if (folders.length === 0) return;
    const { extensionUri, extension, storageUri } = this.#context;
    const { version } = extension.packageJSON as { readonly version: string };
    const shelf = new Shelf({
      folders: folders.map(({ uri }) => uri.fsPath),
      worker: vscode.Uri.joinPath(extensionUri, "dist", "shelf-worker.js").fsPath,
      cache:
        storageUri === undefined ? undefined : { file: path.join(storageUri.fsPath, "shelf.json"), version },
    });
    this.#shelf = shelf;
    await vscode.window.withProgress({ location: { viewId: "boutline.bouts" } }, () => shelf.refresh());
    this.#saveSoon();
  }

  #note({ scheme, fsPath }: vscode.Uri): void {
    if (scheme !== "file" || this.#shelf === undefined) return;
    this.#waiting.add(fsPath);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      const files = [...this.#waiting];
      this.#waiting.clear();
      void this.#shelf?.changed(files).then(() => {
        this.#refresh();
        this.#saveSoon();
      });
    }, pause);
  }

  #saveSoon(): void {
    clearTimeout(this.#saving);
    this.#saving = setTimeout(() => void this.#shelf?.save(), 2000);
  }
}

export function itemOf(node: BoutNode): vscode.TreeItem {
  switch (node.is) {
    case "group": {
      const item = new vscode.TreeItem(node.group.label, vscode.TreeItemCollapsibleState.Collapsed);
      item.id = `group ${node.group.key}`;
      item.description = counted(node.group.bouts.length, "bout");
      item.contextValue = "group";
      return item;
    }
    case "bout":
      return boutItem(node.bout, node.under);
    case "remarks": {
      const item = new vscode.TreeItem("To look at", vscode.TreeItemCollapsibleState.Collapsed);
      item.id = "remarks";
      item.description = String(node.remarks.length);
      item.iconPath = new vscode.ThemeIcon("question");
      return item;
    }
    case "remark": {
      const { label, description, file } = node.remark;
      const item = new vscode.TreeItem(label);
      item.description = description;
      item.tooltip = `${label}: ${description}`;
      if (file !== undefined)
        item.command = {
          title: "Open the text",
          command: "vscode.openWith",
          arguments: [vscode.Uri.file(file), "default"],
        };
      return item;
    }
  }
}

function boutItem(bout: BoutRow, under: string): vscode.TreeItem {
  const item = new vscode.TreeItem(boutLabel(bout));
  const uri = vscode.Uri.file(bout.file);
  item.id = `bout ${under} ${bout.file}`;
  item.description = boutDescription(bout);
  item.contextValue = hasMissing(bout) ? "bout missing" : "bout";
  item.iconPath = new vscode.ThemeIcon(
    bout.findings.error > 0
      ? "error"
      : bout.findings.warning > 0
        ? "warning"
        : hasMissing(bout)
          ? "debug-disconnect"
          : bout.uncalled > 0
            ? "circle-outline"
            : "pass",
  );
  const facts = [
    bout.title,
    bout.event,
    bout.round,
    bout.date,
    weaponName(bout.weapon),
    counted(bout.phrases, "phrase"),
  ];
  item.tooltip = [facts.filter((fact) => fact !== undefined).join(", "), ...toDo(bout), bout.file].join("\n");
  item.command = { title: "Open the viewer", command: "boutline.openViewer", arguments: [uri] };
  return item;
}
