// Squiggles in the text of open bout files for what the schema can't say, each with a link to the page of its rule and to
// the other entries it has to do with. They wait until nobody types, and are worked out on the newest text alone.

import * as vscode from "vscode";
import type { Severity } from "../bout/result";
import { isBoutFile } from "./bout-file";
import type { BoutDocuments } from "./documents";
import { linkToRule } from "./rule-pages";
import { findingsInText, type TextFinding } from "./text-findings";

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
  readonly #subscriptions: vscode.Disposable[];

  /** `recounted` tells of bouts to be counted anew though their text is the same. */
  constructor(documents: BoutDocuments, recounted: vscode.Event<unknown>) {
    this.#documents = documents;
    this.#subscriptions = [
      vscode.workspace.onDidOpenTextDocument((document) => this.#schedule(document)),
      vscode.workspace.onDidChangeTextDocument(({ document }) => this.#schedule(document)),
      vscode.workspace.onDidCloseTextDocument((document) => this.#forget(document)),
    ];
    const all = () => {
      for (const document of vscode.workspace.textDocuments) this.#schedule(document);
    };
    all();
    this.#subscriptions.push(recounted(all));
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
    this.#shown.set(
      document.uri,
      findingsInText(reading, study).map((finding) => diagnosticOf(document, finding)),
    );
  }
}

function diagnosticOf(document: vscode.TextDocument, finding: TextFinding): vscode.Diagnostic {
  const { rule, severity, message, related } = finding;
  const diagnostic = new vscode.Diagnostic(rangeOf(document, finding), message, severities[severity]);
  diagnostic.source = "Boutline";
  diagnostic.code = { value: rule, target: linkToRule(rule) };
  diagnostic.relatedInformation = related.map(
    (other) =>
      new vscode.DiagnosticRelatedInformation(
        new vscode.Location(document.uri, rangeOf(document, other)),
        other.message,
      ),
  );
  return diagnostic;
}

function rangeOf(
  document: vscode.TextDocument,
  { offset, length }: Pick<TextFinding, "offset" | "length">,
): vscode.Range {
  return new vscode.Range(document.positionAt(offset), document.positionAt(offset + length));
}
