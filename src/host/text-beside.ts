// The text of a bout file beside its viewer: opened in the other editor group, the entry under the playhead marked in
// its gutter, and kept in sight while somebody works in the viewer.

import * as vscode from "vscode";
import type { EntryRecord } from "../bout/read";
import { lastUpTo } from "../bout/tagging";
import type { Milliseconds } from "../bout/time";
import type { BoutDocuments } from "./documents";

export class TextBeside implements vscode.Disposable {
  readonly #documents: BoutDocuments;
  readonly #mark: vscode.TextEditorDecorationType;
  /** Entry last brought into sight, as its offset in the text, by document. */
  readonly #revealed = new WeakMap<vscode.TextDocument, number>();

  constructor(extension: vscode.Uri, documents: BoutDocuments) {
    this.#documents = documents;
    const icon = (theme: string) => ({
      gutterIconPath: vscode.Uri.joinPath(extension, "media", "icons", `playhead-${theme}.svg`),
    });
    this.#mark = vscode.window.createTextEditorDecorationType({
      gutterIconSize: "contain",
      light: icon("light"),
      dark: icon("dark"),
    });
  }

  dispose(): void {
    this.#mark.dispose();
  }

  /** Opens the text beside the viewer, unless it is open already or the user does not want it. */
  async openUnlessThere(document: vscode.TextDocument): Promise<void> {
    const wanted = vscode.workspace.getConfiguration("boutline", document.uri).get<boolean>("openText", true);
    if (wanted && textTab(document.uri) === undefined) await this.open(document.uri, true);
  }

  /** Opens the text, or takes its tab to the front; the cursor stays in the viewer where `preserveFocus` says so. */
  async open(uri: vscode.Uri, preserveFocus: boolean): Promise<void> {
    const there = textTab(uri);
    const viewColumn = there?.group.viewColumn ?? vscode.ViewColumn.Beside;
    await vscode.commands.executeCommand("vscode.openWith", uri, "default", {
      viewColumn,
      preserveFocus,
      preview: false,
    });
  }

  /** Opens the text with the cursor at a place, both from 1. */
  async openAt(uri: vscode.Uri, line: number, column: number): Promise<void> {
    await this.open(uri, false);
    const editor = vscode.window.visibleTextEditors.find(
      ({ document }) => document.uri.toString() === uri.toString(),
    );
    if (editor === undefined) return;
    const place = new vscode.Position(Math.max(0, line - 1), Math.max(0, column - 1));
    editor.selection = new vscode.Selection(place, place);
    editor.revealRange(new vscode.Range(place, place), vscode.TextEditorRevealType.InCenterIfOutsideViewport);
  }

  /** Marks the entry under the playhead in every visible text of the document, and scrolls to it when it is another. */
  follow(document: vscode.TextDocument, playhead: number | undefined): void {
    const editors = vscode.window.visibleTextEditors.filter((editor) => editor.document === document);
    if (editors.length === 0) return;
    const { bout } = this.#documents.read(document).reading;
    const record =
      bout === undefined || playhead === undefined ? undefined : lastUpTo(bout, playhead as Milliseconds);
    if (record === undefined) {
      for (const editor of editors) editor.setDecorations(this.#mark, []);
      return;
    }
    const start = document.positionAt(record.offset);
    const range = new vscode.Range(start, start);
    const moved = this.#revealed.get(document) !== record.offset;
    this.#revealed.set(document, record.offset);
    for (const editor of editors) {
      editor.setDecorations(this.#mark, [range]);
      // Somebody at work in the text is not scrolled away from it.
      if (moved && editor !== vscode.window.activeTextEditor)
        editor.revealRange(range, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
    }
  }

  /** The entry that stands on a line (from 0) of the text; where none does, the one before. */
  entryAt(document: vscode.TextDocument, line: number): EntryRecord | undefined {
    const { bout } = this.#documents.read(document).reading;
    const end = document.offsetAt(document.lineAt(line).range.end);
    return bout?.log.findLast(({ offset }) => offset <= end);
  }
}

function textTab(uri: vscode.Uri): vscode.Tab | undefined {
  return vscode.window.tabGroups.all
    .flatMap(({ tabs }) => tabs)
    .find(({ input }) => input instanceof vscode.TabInputText && input.uri.toString() === uri.toString());
}
