// The rule editions that federations bring: NAME.edition.json beside a bout file that names it. They are read when a bout
// first asks, from the text on screen where the file is open, and again whenever they change.

import * as vscode from "vscode";
import type { Bout } from "../bout/read";
import { editionFileOf, type EditionFile } from "../rules";

/** Longer than any edition; a file of this length is not read. */
const mostBytes = 2_000_000;

export class EditionFiles implements vscode.Disposable {
  readonly #changed = new vscode.EventEmitter<vscode.Uri>();
  /** Tells of a file that came, went or says something else. */
  readonly onDidChange = this.#changed.event;
  /** By address. Null: there is no such file. Not there: nobody has asked, or the answer is on its way. */
  readonly #read = new Map<string, EditionFile | null>();
  readonly #asked = new Set<string>();
  readonly #watched = new Map<string, vscode.Disposable>();
  readonly #subscriptions: readonly vscode.Disposable[];

  constructor() {
    const onScreen = (document: vscode.TextDocument) => {
      if (this.#asked.has(document.uri.toString())) this.#take(document.uri, document.getText());
    };
    this.#subscriptions = [
      vscode.workspace.onDidOpenTextDocument(onScreen),
      vscode.workspace.onDidChangeTextDocument(({ document }) => onScreen(document)),
      // Closed without saving, it says again what is on the disk.
      vscode.workspace.onDidCloseTextDocument(({ uri }) => {
        if (this.#asked.has(uri.toString())) void this.#load(uri);
      }),
    ];
  }

  dispose(): void {
    for (const one of [...this.#subscriptions, ...this.#watched.values(), this.#changed]) one.dispose();
  }

  /** The file of the edition a bout names; undefined where it needs none, where there is none, and until it is read. */
  beside(document: vscode.TextDocument, bout: Bout): EditionFile | undefined {
    const file = editionFileOf(bout);
    const { uri } = document;
    // An old version of a bout file, as in a comparison, has no folder to look in.
    if (file === undefined || uri.scheme === "untitled" || uri.query !== "") return undefined;
    const wanted = vscode.Uri.joinPath(uri, "..", file);
    const name = wanted.toString();
    if (!this.#asked.has(name)) {
      this.#asked.add(name);
      this.#watch(vscode.Uri.joinPath(uri, ".."));
      void this.#load(wanted);
    }
    return this.#read.get(name) ?? undefined;
  }

  /** What was read of a file some bout asked for. */
  textOf(uri: vscode.Uri): string | undefined {
    return this.#read.get(uri.toString())?.text;
  }

  #watch(folder: vscode.Uri): void {
    const name = folder.toString();
    if (this.#watched.has(name)) return;
    const pattern = new vscode.RelativePattern(folder, "*.edition.json");
    const watcher = vscode.workspace.createFileSystemWatcher(pattern);
    const again = (uri: vscode.Uri) => {
      if (this.#asked.has(uri.toString())) void this.#load(uri);
    };
    this.#watched.set(
      name,
      vscode.Disposable.from(
        watcher,
        watcher.onDidCreate(again),
        watcher.onDidChange(again),
        watcher.onDidDelete(again),
      ),
    );
  }

  async #load(uri: vscode.Uri): Promise<void> {
    const open = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
    this.#take(uri, open === undefined || open.isClosed ? await textOnDisk(uri) : open.getText());
  }

  #take(uri: vscode.Uri, text: string | undefined): void {
    const name = uri.toString();
    const before = this.#read.get(name);
    if (before === undefined ? text === undefined && this.#read.has(name) : before?.text === text) return;
    const file = uri.path.slice(uri.path.lastIndexOf("/") + 1);
    this.#read.set(name, text === undefined ? null : { file, text });
    this.#changed.fire(uri);
  }
}

async function textOnDisk(uri: vscode.Uri): Promise<string | undefined> {
  try {
    const { size, type } = await vscode.workspace.fs.stat(uri);
    if ((type & vscode.FileType.File) === 0 || size > mostBytes) return undefined;
    return new TextDecoder("utf-8").decode(await vscode.workspace.fs.readFile(uri));
  } catch {
    return undefined;
  }
}
