// Squiggles in the text of open bout files for what the schema can't say.

import * as vscode from "vscode";
import type { Severity } from "../bout/result";
import { isBoutFile } from "./bout-file";
import type { BoutDocuments } from "./documents";
import { findingsInText } from "./text-findings";

/** Milliseconds without an edit after which findings are shown. */
const pause = 200;

const severities: Readonly<Record<Severity, vscode.DiagnosticSeverity>> = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  note: vscode.DiagnosticSeverity.Information,
};

export class Diagnostics implements vscode.Disposable {
  readonly #documents: BoutDocuments;
  readonly #shown = vscode.languages.createDiagnosticCollection("boutline");
  readonly #waiting = new Map<vscode.TextDocument, NodeJS.Timeout>();
  readonly #subscriptions: readonly vscode.Disposable[];

  constructor(documents: BoutDocuments) {
    this.#documents = documents;
    this.#subscriptions = [
      vscode.workspace.onDidOpenTextDocument((document) => this.#schedule(document)),
      vscode.workspace.onDidChangeTextDocument(({ document }) => this.#schedule(document)),
      vscode.workspace.onDidCloseTextDocument((document) => this.#forget(document)),
    ];
    for (const document of vscode.workspace.textDocuments) this.#schedule(document);
  }

  dispose(): void {
    for (const timer of this.#waiting.values()) clearTimeout(timer);
    for (const subscription of this.#subscriptions) subscription.dispose();
    this.#shown.dispose();
  }

  #schedule(document: vscode.TextDocument): void {
    // An old version, as in a comparison, can't be put right.
    if (!isBoutFile(document) || vscode.workspace.fs.isWritableFileSystem(document.uri.scheme) === false)
      return;
    clearTimeout(this.#waiting.get(document));
    this.#waiting.set(
      document,
      setTimeout(() => this.#show(document), pause),
    );
  }

  #forget(document: vscode.TextDocument): void {
    clearTimeout(this.#waiting.get(document));
    this.#waiting.delete(document);
    this.#shown.delete(document.uri);
  }

  #show(document: vscode.TextDocument): void {
    this.#waiting.delete(document);
    if (document.isClosed) return;
    const { reading, study } = this.#documents.read(document);
    const found = findingsInText(reading, study).map(({ rule, severity, message, offset, length }) => {
      const range = new vscode.Range(document.positionAt(offset), document.positionAt(offset + length));
      const diagnostic = new vscode.Diagnostic(range, message, severities[severity]);
      diagnostic.source = "Boutline";
      diagnostic.code = rule;
      return diagnostic;
    });
    this.#shown.set(document.uri, found);
  }
}
