// Two bout files beside each other in a panel, made anew when one of them is edited; each figure plays in its own viewer.

import * as vscode from "vscode";
import type { Study } from "../rules";
import { sides } from "../bout/words";
import { personKey, type BoutRow } from "../shelf";
import { boutLabel, nameOf } from "./bouts-view";
import { fromSheet, type FromSheet, type ToSheet } from "../messages/sheet";
import { OpenPanels, PagePanel } from "./page-panel";
import { fileName, keptDocuments, playPhrases, sheetDocument, type SheetServices } from "./sheet";

type Documents = readonly [first: vscode.TextDocument, second: vscode.TextDocument];

/** The panel's kind, by which VS Code brings it back after a reload of the window. */
const comparisonViewType = "boutline.compared";

const open = new OpenPanels();

/** Compares two bouts; asks for the second where one is given. A sentence says what stands in the way. */
export async function compare(
  context: Pick<vscode.ExtensionContext, "extensionUri">,
  bouts: readonly BoutRow[] | undefined,
  all: readonly BoutRow[],
  services: SheetServices,
): Promise<void> {
  const refuse = (why: string) => void vscode.window.showInformationMessage(why);
  const [one, given, ...more] = bouts ?? [];
  if (one === undefined || more.length > 0) {
    refuse("Select two bouts in the view \u201cBouts\u201d to compare them.");
    return;
  }
  const other = given ?? (await chooseOther(one, all));
  if (other === undefined) return;
  const empty = [one, other].find(({ phrases }) => phrases === 0);
  if (empty !== undefined) {
    refuse(`${nameOf(empty.file)} has no phrase yet, so there is nothing to compare it by.`);
    return;
  }
  const [first, second] = [one, other].sort((a, b) => order(a).localeCompare(order(b), "en"));
  if (first === undefined || second === undefined) return;
  try {
    const documents = [
      await vscode.workspace.openTextDocument(vscode.Uri.file(first.file)),
      await vscode.workspace.openTextDocument(vscode.Uri.file(second.file)),
    ] as const;
    openComparison(context, documents, services);
  } catch {
    refuse(`${nameOf(first.file)} or ${nameOf(second.file)} can't be opened any more.`);
  }
}

/** The earlier bout comes first. */
function order({ date = "", file }: BoutRow): string {
  return `${date} ${file}`;
}

/** Those with a fencer of this bout first. */
async function chooseOther(one: BoutRow, all: readonly BoutRow[]): Promise<BoutRow | undefined> {
  const fencers = new Set(sides.map((side) => personKey(one.fencers[side])));
  const shares = (bout: BoutRow) => sides.some((side) => fencers.has(personKey(bout.fencers[side])));
  const item = (bout: BoutRow) => ({
    label: boutLabel(bout),
    description: [bout.date, bout.event, bout.round].filter((part) => part !== undefined).join(" \u00b7 "),
    detail: vscode.workspace.asRelativePath(bout.file),
    bout,
  });
  const others = all.filter(({ file }) => file !== one.file);
  const heading = (label: string) => ({ label, kind: vscode.QuickPickItemKind.Separator, bout: undefined });
  const chosen = await vscode.window.showQuickPick(
    [
      heading("with a fencer of this bout"),
      ...others.filter(shares).map(item),
      heading("others"),
      ...others.filter((bout) => !shares(bout)).map(item),
    ],
    {
      title: `Compare ${boutLabel(one)} with which bout?`,
      matchOnDescription: true,
      matchOnDetail: true,
    },
  );
  return chosen?.bout;
}

/** Opens the comparison of two bout files, or takes its panel to the front. */
function openComparison(
  context: Pick<vscode.ExtensionContext, "extensionUri">,
  documents: Documents,
  services: SheetServices,
): void {
  if (!open.reveal(nameOfBoth(documents))) fill(newPanel(), context, documents, services);
}

/** Fills a comparison that was open when the window was closed; one that lacks a file by now is closed. */
export async function restoreComparison(
  context: Pick<vscode.ExtensionContext, "extensionUri">,
  panel: vscode.WebviewPanel,
  kept: unknown,
  services: SheetServices,
): Promise<void> {
  const [first, second] = await keptDocuments(kept);
  if (first === undefined || second === undefined) panel.dispose();
  else fill(panel, context, [first, second], services);
}

function nameOfBoth(documents: Documents): string {
  return documents.map(({ uri }) => uri.toString()).join(" ");
}

function fill(
  empty: vscode.WebviewPanel,
  { extensionUri }: Pick<vscode.ExtensionContext, "extensionUri">,
  documents: Documents,
  services: SheetServices,
): void {
  open.fill(
    nameOfBoth(documents),
    empty,
    (panel) => new ComparePanel(extensionUri, panel, documents, services),
  );
}

function newPanel(): vscode.WebviewPanel {
  return vscode.window.createWebviewPanel(comparisonViewType, "Comparison", vscode.ViewColumn.Active, {
    enableFindWidget: true,
  });
}

class ComparePanel {
  readonly #panel: PagePanel<ToSheet>;
  readonly #services: SheetServices;
  #documents: Documents;
  /** Counts the texts the page was to be made of; figures of an older one are asked for again. */
  #version = 0;

  constructor(
    extension: vscode.Uri,
    panel: vscode.WebviewPanel,
    documents: Documents,
    services: SheetServices,
  ) {
    this.#documents = documents;
    this.#services = services;
    panel.title = `Comparison: ${fileName(documents[0])}, ${fileName(documents[1])}`;
    this.#panel = new PagePanel(panel, {
      ...sheetDocument,
      extension,
      title: "Comparison",
      make: () => this.#showPage(),
      received: (message) => this.#received(message),
    });
    this.#panel.add(
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length > 0 && this.#documents.includes(document)) this.#changed();
      }),
      // Closed and opened again, the file has another document.
      vscode.workspace.onDidOpenTextDocument((opened) => {
        const name = opened.uri.toString();
        const [first, second] = this.#documents.map((one) => (one.uri.toString() === name ? opened : one));
        if (first === undefined || second === undefined) return;
        if (first === this.#documents[0] && second === this.#documents[1]) return;
        this.#documents = [first, second];
        this.#changed();
      }),
    );
  }

  #changed(): void {
    this.#version++;
    this.#panel.changed();
  }

  async #showPage(): Promise<void> {
    const pages = await import("../pages");
    const { againstOf } = await import("../figures");
    const version = this.#version;
    const [first, second] = [this.#read(0), this.#read(1)];
    const html =
      first.study === undefined || second.study === undefined
        ? pages.apartPage(
            [first, second].flatMap(({ file, study }) =>
              study === undefined ? [`${file} can't be read as a bout file.`] : [],
            ),
          )
        : pages.againstPage(
            [
              { file: first.file, study: first.study },
              { file: second.file, study: second.study },
            ],
            againstOf(first.study, second.study),
          );
    this.#panel.post({
      type: "page",
      version,
      html,
      files: this.#documents.map(({ uri }) => uri.toString()),
    });
  }

  /** Figures of half a file would be wrong without looking so, so there are none. */
  #read(index: 0 | 1): { readonly file: string; readonly study: Study | undefined } {
    const document = this.#documents[index];
    const { reading, study } = this.#services.documents.read(document);
    return { file: fileName(document), study: reading.scan.broken ? undefined : study };
  }

  async #received(raw: unknown): Promise<void> {
    const message = fromSheet.safeParse(raw);
    if (!message.success) return;
    switch (message.data.type) {
      case "ready":
        this.#panel.listens();
        await this.#panel.now();
        break;
      case "evidence":
        await this.#playEvidence(message.data);
        break;
      case "sections":
      case "meaning":
      case "line":
      case "save":
        break;
    }
  }

  async #playEvidence({ key, title, entries, of, version }: Extract<FromSheet, { type: "evidence" }>) {
    if (version !== this.#version) {
      // The entries have moved since: the new page knows where they are now.
      await this.#panel.now();
      this.#panel.post({ type: "again", key });
      return;
    }
    const document = this.#documents[of === "second" ? 1 : 0];
    await playPhrases(this.#services, document, title, entries, (message) =>
      this.#panel.post({ type: "say", message }),
    );
  }
}
