// What is wrong in a rule edition's own file, marked in that file: while it is open, and as long as a bout names it.
// Lines that VS Code's JSON support marks already are left to it.

import * as vscode from "vscode";
import type { Problem } from "../bout/result";
import { editionFileEnding, readEdition } from "../rules";
import type { EditionFiles } from "./edition-files";
import { linkToRule } from "./rule-pages";

const source = "Boutline";

export class EditionDiagnostics implements vscode.Disposable {
  readonly #files: EditionFiles;
  readonly #shown = vscode.languages.createDiagnosticCollection("boutline-editions");
  readonly #subscriptions: readonly vscode.Disposable[];

  constructor(files: EditionFiles) {
    this.#files = files;
    const { workspace } = vscode;
    this.#subscriptions = [
      files.onDidChange((uri) => this.#show(uri)),
      workspace.onDidOpenTextDocument(({ uri }) => this.#show(uri)),
      workspace.onDidChangeTextDocument(({ document }) => this.#show(document.uri)),
      workspace.onDidCloseTextDocument(({ uri }) => this.#show(uri)),
      // JSON's own marks come later than ours.
      vscode.languages.onDidChangeDiagnostics(({ uris }) => {
        for (const uri of uris) if (this.#shown.has(uri)) this.#show(uri);
      }),
    ];
    for (const { uri } of workspace.textDocuments) this.#show(uri);
  }

  dispose(): void {
    for (const one of [...this.#subscriptions, this.#shown]) one.dispose();
  }

  #show(uri: vscode.Uri): void {
    const name = uri.path.slice(uri.path.lastIndexOf("/") + 1);
    if (!name.endsWith(editionFileEnding)) return;
    const open = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
    const text = open?.getText() ?? this.#files.textOf(uri);
    const read = text === undefined ? undefined : readEdition(text, { file: name });
    const problems = read === undefined || read.ok ? [] : read.problem;
    const others = new Set(
      vscode.languages
        .getDiagnostics(uri)
        .filter((one) => one.source !== source)
        .map(({ range }) => range.start.line),
    );
    const found = problems.map(diagnosticOf).filter(({ range }) => !others.has(range.start.line));
    // Marking again what is marked would be told to everybody, this listener among them, without end.
    if (!alike(this.#shown.get(uri) ?? [], found)) this.#shown.set(uri, found);
  }
}

function diagnosticOf({ message, place: { line, column, length } }: Problem): vscode.Diagnostic {
  const range = new vscode.Range(line - 1, column - 1, line - 1, column - 1 + Math.max(1, length));
  const said = `${message.charAt(0).toUpperCase()}${message.slice(1)}`;
  const diagnostic = new vscode.Diagnostic(range, said, vscode.DiagnosticSeverity.Error);
  diagnostic.source = source;
  diagnostic.code = { value: "edition-file", target: linkToRule("edition-file") };
  return diagnostic;
}

function alike(one: readonly vscode.Diagnostic[], other: readonly vscode.Diagnostic[]): boolean {
  return (
    one.length === other.length &&
    one.every(({ message, range }, place) => {
      const same = other[place];
      return same?.message === message && same.range.isEqual(range);
    })
  );
}
