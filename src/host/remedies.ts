// The light bulb at a finding: what can be done about it, each remedy one small edit and one undo step, written the same
// way as a tag. What a remedy is for which finding is said in `rules/`.

import * as vscode from "vscode";
import { failure, success } from "../bout/result";
import { remediesOf, type Finding, type Remedy } from "../rules";
import { boutFiles } from "./bout-file";
import type { BoutDocuments } from "./documents";
import { isWritable, type Writer } from "./writer";

const command = "boutline.useRemedy";

/** A remedy found again in whatever the text is by the time it is used. */
interface Chosen {
  readonly uri: vscode.Uri;
  readonly rule: string;
  readonly entry: number;
  readonly title: string;
  /** The entry as it was written; another text there is another entry. */
  readonly written: string;
}

export class Remedies implements vscode.CodeActionProvider, vscode.Disposable {
  readonly #documents: BoutDocuments;
  readonly #writer: Writer;
  readonly #registered: readonly vscode.Disposable[];

  constructor(documents: BoutDocuments, writer: Writer) {
    this.#documents = documents;
    this.#writer = writer;
    this.#registered = [
      vscode.commands.registerCommand(command, (chosen: Chosen) => this.#use(chosen)),
      vscode.languages.registerCodeActionsProvider(boutFiles, this, {
        providedCodeActionKinds: [vscode.CodeActionKind.QuickFix],
      }),
    ];
  }

  dispose(): void {
    for (const one of this.#registered) one.dispose();
  }

  async provideCodeActions(
    document: vscode.TextDocument,
    range: vscode.Range,
    { diagnostics, only }: vscode.CodeActionContext,
  ): Promise<vscode.CodeAction[]> {
    if (only !== undefined && !only.contains(vscode.CodeActionKind.QuickFix)) return [];
    if (!(await isWritable(document.uri))) return [];
    const { reading, study } = this.#documents.read(document);
    if (!reading.editable || study === undefined) return [];
    const from = document.offsetAt(range.start);
    const to = document.offsetAt(range.end);
    const { text, stretches } = reading.scan;
    const offered = new Map<string, vscode.CodeAction>();
    for (const finding of study.findings) {
      const { entry, rule } = finding;
      const stretch = entry === undefined ? undefined : stretches[entry];
      if (entry === undefined || stretch === undefined) continue;
      const end = stretch.offset + stretch.length;
      if (stretch.offset > to || end < from) continue;
      const shown = diagnostics.filter((diagnostic) =>
        isAbout(diagnostic, finding, document, stretch.offset),
      );
      for (const remedy of remediesOf(finding, study.ledger)) {
        // Two findings about one entry may have the same remedy.
        const same = JSON.stringify(remedy.change);
        const before = offered.get(same);
        const action = before ?? actionFor(remedy);
        action.diagnostics = [...(action.diagnostics ?? []), ...shown];
        if (before !== undefined) continue;
        const written = text.slice(stretch.offset, end);
        const chosen: Chosen = { uri: document.uri, rule, entry, title: remedy.title, written };
        action.command = { command, title: remedy.title, arguments: [chosen] };
        offered.set(same, action);
      }
    }
    return [...offered.values()];
  }

  async #use({ uri, rule, entry, title, written }: Chosen): Promise<void> {
    const document = await vscode.workspace.openTextDocument(uri);
    const done = await this.#writer.write(document, (study, { scan: { text, stretches } }) => {
      const stretch = stretches[entry];
      const same = stretch !== undefined && text.startsWith(written, stretch.offset);
      const remedy = !same
        ? undefined
        : study.findings
            .filter((finding) => finding.rule === rule && finding.entry === entry)
            .flatMap((finding) => remediesOf(finding, study.ledger))
            .find((other) => other.title === title);
      return remedy === undefined
        ? failure(
            "The text has changed since this was offered; nothing was changed. Look at the entry again.",
          )
        : success(remedy.change);
    });
    if (!done.ok) void vscode.window.showWarningMessage(done.problem);
  }
}

function actionFor({ kind, title }: Remedy): vscode.CodeAction {
  const action = new vscode.CodeAction(title, vscode.CodeActionKind.QuickFix);
  // Only a slip has one right answer; what the officials did has to be looked up.
  action.isPreferred = kind === "put right";
  return action;
}

function isAbout(
  { source, code, range }: vscode.Diagnostic,
  { rule }: Finding,
  document: vscode.TextDocument,
  offset: number,
): boolean {
  const named = typeof code === "object" ? code.value : code;
  return source === "Boutline" && named === rule && document.offsetAt(range.start) === offset;
}
