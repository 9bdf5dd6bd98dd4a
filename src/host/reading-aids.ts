// What helps to read and write a bout file as text: outline and breadcrumbs, folds by period, the ledger on hovering, the
// score behind each touch, and what can be written where. Each only puts into VS Code's shapes what another file answers.

import * as vscode from "vscode";
import type { EntryRecord } from "../bout/read";
import type { Stretch } from "../bout/scan";
import { boutFiles } from "./bout-file";
import { offersAt } from "./completion";
import type { BoutDocuments } from "./documents";
import { foldsOf } from "./folding";
import { asMarkdown, hoverText } from "./hover-text";
import { outlineOf, type Heading } from "./outline";
import { scoreMarks } from "./running-score";

export class ReadingAids
  implements
    vscode.DocumentSymbolProvider,
    vscode.FoldingRangeProvider,
    vscode.HoverProvider,
    vscode.InlayHintsProvider,
    vscode.CompletionItemProvider,
    vscode.Disposable
{
  readonly #documents: BoutDocuments;
  readonly #registered: readonly vscode.Disposable[];

  readonly onDidChangeInlayHints: vscode.Event<void>;

  /** `recounted` tells of bouts to be counted anew though their text is the same. */
  constructor(documents: BoutDocuments, recounted: vscode.Event<unknown>) {
    this.#documents = documents;
    this.onDidChangeInlayHints = (listener, of, disposables) =>
      recounted(() => void listener.call(of, undefined), undefined, disposables);
    const { languages } = vscode;
    this.#registered = [
      languages.registerDocumentSymbolProvider(boutFiles, this, { label: "Bout" }),
      languages.registerFoldingRangeProvider(boutFiles, this),
      languages.registerHoverProvider(boutFiles, this),
      languages.registerInlayHintsProvider(boutFiles, this),
      languages.registerCompletionItemProvider(boutFiles, this, '"'),
    ];
  }

  dispose(): void {
    for (const one of this.#registered) one.dispose();
  }

  provideDocumentSymbols(document: vscode.TextDocument): vscode.DocumentSymbol[] {
    const { study } = this.#documents.read(document);
    return study === undefined ? [] : outlineOf(study.ledger).map((heading) => symbolOf(document, heading));
  }

  provideFoldingRanges(document: vscode.TextDocument): vscode.FoldingRange[] {
    const { study, reading } = this.#documents.read(document);
    const { log } = reading.scan;
    if (study === undefined || log === undefined) return [];
    const lineAt = (offset: number) => document.positionAt(offset).line;
    return foldsOf(outlineOf(study.ledger), log, lineAt).map(
      ({ start, end }) => new vscode.FoldingRange(start, end, vscode.FoldingRangeKind.Region),
    );
  }

  provideHover(document: vscode.TextDocument, position: vscode.Position): vscode.Hover | undefined {
    const { study } = this.#documents.read(document);
    const offset = document.offsetAt(position);
    const record = study === undefined ? undefined : entryAround(study.bout.log, offset);
    const row = record === undefined ? undefined : study?.ledger.byEntry[record.index];
    if (study === undefined || row === undefined) return undefined;
    const words = new vscode.MarkdownString(asMarkdown(hoverText(row, study.ledger)));
    words.isTrusted = false;
    words.supportHtml = false;
    words.supportThemeIcons = false;
    return new vscode.Hover(words);
  }

  provideInlayHints(document: vscode.TextDocument, range: vscode.Range): vscode.InlayHint[] {
    const { study, reading } = this.#documents.read(document);
    if (study === undefined) return [];
    const from = document.offsetAt(range.start);
    const to = document.offsetAt(range.end);
    return scoreMarks(study.ledger, reading.scan.text, from, to).map(({ offset, score, says }) => {
      const hint = new vscode.InlayHint(document.positionAt(offset), score);
      hint.tooltip = says;
      hint.paddingLeft = true;
      return hint;
    });
  }

  provideCompletionItems(document: vscode.TextDocument, position: vscode.Position): vscode.CompletionItem[] {
    const { study, reading } = this.#documents.read(document);
    const found = study === undefined ? undefined : offersAt(reading, study, document.offsetAt(position));
    if (found === undefined) return [];
    const range = rangeOf(document, found.replaces);
    return found.offers.map(({ text, detail, says }, place) => {
      const item = new vscode.CompletionItem(
        detail === "" ? text : { label: text, description: detail },
        vscode.CompletionItemKind.Value,
      );
      item.range = range;
      item.filterText = text;
      item.sortText = String(place).padStart(3, "0");
      if (says !== "") item.documentation = says;
      return item;
    });
  }
}

function symbolOf(
  document: vscode.TextDocument,
  { name, range, first, lines }: Heading,
): vscode.DocumentSymbol {
  const symbol = new vscode.DocumentSymbol(
    name,
    "",
    vscode.SymbolKind.Module,
    rangeOf(document, range),
    rangeOf(document, first),
  );
  symbol.children = lines.map((line) => {
    const whole = rangeOf(document, line.range);
    const kind = line.kind === "phrase" ? vscode.SymbolKind.Event : vscode.SymbolKind.Field;
    return new vscode.DocumentSymbol(line.name, line.at, kind, whole, whole);
  });
  return symbol;
}

/** The last character's far side counts: there the cursor stands after a finding was chosen. */
function entryAround(log: readonly EntryRecord[], at: number): EntryRecord | undefined {
  return log.find(({ offset, length }) => offset <= at && at <= offset + length);
}

function rangeOf(document: vscode.TextDocument, { offset, length }: Stretch): vscode.Range {
  return new vscode.Range(document.positionAt(offset), document.positionAt(offset + length));
}
