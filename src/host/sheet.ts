// The study sheet of a bout file as a panel beside its viewer: made anew after each edit, and asking the viewer to play
// the phrases behind a figure.

import { randomBytes } from "node:crypto";
import * as vscode from "vscode";
import { fromSheet, type FromSheet, type ToSheet } from "../messages/sheet";
import type { Stretch } from "../pages";
import { textFindings } from "../rules";
import type { BoutDocuments } from "./documents";

/** What the panel needs of the rest of the host. */
export interface SheetServices {
  readonly documents: BoutDocuments;
  /** Takes the viewer of this document to the front, opening it where there is none, and plays the stretches one after
   * another. */
  readonly play: (
    document: vscode.TextDocument,
    title: string,
    stretches: readonly Stretch[],
  ) => PromiseLike<void>;
}

/** Milliseconds without an edit after which the page is made again. */
const pause = 150;

const open = new Map<string, SheetPanel>();

/** Opens the study sheet of a bout file, or takes its panel to the front. */
export function openSheet(
  { extensionUri }: Pick<vscode.ExtensionContext, "extensionUri">,
  document: vscode.TextDocument,
  services: SheetServices,
): void {
  const name = document.uri.toString();
  const before = open.get(name);
  if (before !== undefined) {
    before.reveal();
    return;
  }
  const panel = new SheetPanel(extensionUri, document, services);
  open.set(name, panel);
  panel.onDispose(() => open.delete(name));
}

class SheetPanel {
  readonly #panel: vscode.WebviewPanel;
  readonly #services: SheetServices;
  readonly #subscriptions: vscode.Disposable[] = [];
  #document: vscode.TextDocument;
  #timer: NodeJS.Timeout | undefined;
  /** Whether the page's script listens; it does not while the panel is hidden. */
  #listening = false;

  constructor(extension: vscode.Uri, document: vscode.TextDocument, services: SheetServices) {
    this.#document = document;
    this.#services = services;
    const roots = [vscode.Uri.joinPath(extension, "dist"), vscode.Uri.joinPath(extension, "media")];
    this.#panel = vscode.window.createWebviewPanel(
      "boutline.sheet",
      `Study sheet: ${fileName(document)}`,
      vscode.ViewColumn.Beside,
      { enableScripts: true, enableFindWidget: true, localResourceRoots: roots },
    );
    const { webview } = this.#panel;
    this.#subscriptions.push(
      webview.onDidReceiveMessage((message: unknown) => this.#received(message)),
      this.#panel.onDidChangeViewState(() => {
        // A hidden page is thrown away; shown again it says "ready" and gets a new one.
        if (!this.#panel.visible) this.#listening = false;
      }),
      vscode.workspace.onDidChangeTextDocument(({ document: changed }) => {
        if (changed === this.#document) this.#changed();
      }),
      // Closed and opened again, the file has another document.
      vscode.workspace.onDidOpenTextDocument((opened) => {
        if (opened.uri.toString() !== this.#document.uri.toString()) return;
        this.#document = opened;
        this.#changed();
      }),
    );
    this.onDispose(() => {
      clearTimeout(this.#timer);
      for (const subscription of this.#subscriptions) subscription.dispose();
    });
    webview.html = shell(webview, extension);
  }

  reveal(): void {
    this.#panel.reveal();
  }

  onDispose(done: () => void): void {
    this.#subscriptions.push(this.#panel.onDidDispose(done));
  }

  #changed(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#showPage(), pause);
  }

  /** Makes the page of the newest text and shows it. */
  async #showPage(): Promise<void> {
    clearTimeout(this.#timer);
    if (!this.#listening) return;
    const pages = await import("../pages");
    const { version } = this.#document;
    const { reading, study } = this.#services.documents.read(this.#document);
    const html =
      study === undefined
        ? pages.unreadablePage(fileName(this.#document), textFindings(reading))
        : pages.studyPage(study);
    this.#post({ type: "page", version, html });
  }

  async #received(raw: unknown): Promise<void> {
    const message = fromSheet.safeParse(raw);
    if (!message.success) return;
    switch (message.data.type) {
      case "ready":
        this.#listening = true;
        await this.#showPage();
        break;
      case "evidence":
        await this.#playEvidence(message.data);
        break;
    }
  }

  async #playEvidence({ key, title, entries, version }: Extract<FromSheet, { type: "evidence" }>) {
    if (version !== this.#document.version) {
      // The entries have moved since: the new page knows where they are now.
      await this.#showPage();
      this.#post({ type: "again", key });
      return;
    }
    const { study } = this.#services.documents.read(this.#document);
    if (study === undefined) return;
    const { stretchesOf } = await import("../pages");
    const stretches = stretchesOf(study.bout, entries);
    if (stretches.length === 0) {
      this.#post({ type: "say", message: `Nothing to play: ${title}.` });
      return;
    }
    this.#post({ type: "say", message: `Playing ${title}: ${stretches.length} in a row.` });
    await this.#services.play(this.#document, title, stretches);
  }

  #post(message: ToSheet): void {
    void this.#panel.webview.postMessage(message);
  }
}


function fileName({ uri }: vscode.TextDocument): string {
  return uri.path.slice(uri.path.lastIndexOf("/") + 1);
}

/** The panel's document, without content: the page comes as a message. */
function shell(webview: vscode.Webview, extension: vscode.Uri): string {
  const address = (...path: readonly string[]) =>
    webview.asWebviewUri(vscode.Uri.joinPath(extension, ...path)).toString();
  const nonce = randomBytes(16).toString("base64");
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src ${webview.cspSource}; script-src 'nonce-${nonce}'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Study sheet</title>
<link rel="stylesheet" href="${address("media", "sheet.css")}">
</head>
<body>
<main id="sheet"></main>
<p id="said" class="said" role="status"></p>
<script nonce="${nonce}" src="${address("dist", "sheet.js")}"></script>
</body>
</html>`;
}
