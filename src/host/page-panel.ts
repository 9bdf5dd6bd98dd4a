// A panel whose page comes as messages. Its document is empty; what it shows is made again a moment after the last change,
// and only while its script listens.

import { randomBytes } from "node:crypto";
import * as vscode from "vscode";

export interface PagePanelOptions {
  readonly extension: vscode.Uri;
  /** Of the document; the tab has a title of its own. */
  readonly title: string;
  /** What the document's body begins with, for its script to fill. */
  readonly body: string;
  /** Name of its script in `dist`. */
  readonly script: string;
  /** Milliseconds without a change after which the page is made again. */
  readonly pause: number;
  readonly make: () => Promise<void>;
  readonly received: (message: unknown) => Promise<void>;
}

export class PagePanel<Message> {
  readonly panel: vscode.WebviewPanel;
  readonly #pause: number;
  readonly #make: () => Promise<void>;
  readonly #subscriptions: vscode.Disposable[] = [];
  #timer: NodeJS.Timeout | undefined;
  #listening = false;

  constructor(panel: vscode.WebviewPanel, { pause, make, received, ...document }: PagePanelOptions) {
    this.panel = panel;
    this.#pause = pause;
    this.#make = make;
    const { webview } = panel;
    webview.options = {
      enableScripts: true,
      localResourceRoots: ["dist", "media"].map((folder) => vscode.Uri.joinPath(document.extension, folder)),
    };
    this.add(
      webview.onDidReceiveMessage((message: unknown) => void received(message)),
      panel.onDidChangeViewState(() => {
        // A hidden page is thrown away; shown again it says "ready" and gets a new one.
        if (!panel.visible) this.#listening = false;
      }),
    );
    this.onDispose(() => {
      clearTimeout(this.#timer);
      this.#listening = false;
      for (const subscription of this.#subscriptions) subscription.dispose();
    });
    webview.html = documentOf(webview, document);
  }

  /** Whether the page's script takes messages; it does not while the panel is hidden. */
  get listening(): boolean {
    return this.#listening;
  }

  /** The page has said that it is ready. */
  listens(): void {
    this.#listening = true;
  }

  /** To be disposed of with the panel. */
  add(...subscriptions: readonly vscode.Disposable[]): void {
    this.#subscriptions.push(...subscriptions);
  }

  /** Not among the rest, which is disposed of first: `done` would then never be called. */
  onDispose(done: () => void): void {
    this.panel.onDidDispose(done);
  }

  /** Something the page is made of has changed. */
  changed(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.now(), this.#pause);
  }

  /** Makes the page now. */
  async now(): Promise<void> {
    clearTimeout(this.#timer);
    if (this.#listening) await this.#make();
  }

  post(message: Message): void {
    if (this.#listening) void this.panel.webview.postMessage(message);
  }
}

/** The panels of one kind that are open, by what each is of; nothing has two. */
export class OpenPanels {
  readonly #panels = new Map<string, vscode.WebviewPanel>();

  /** Takes the panel of this to the front; false where there is none. */
  reveal(of: string): boolean {
    const panel = this.#panels.get(of);
    panel?.reveal();
    return panel !== undefined;
  }

  /** Fills a new or restored panel, or closes it where there is another one of this. */
  fill(of: string, panel: vscode.WebviewPanel, fill: (panel: vscode.WebviewPanel) => unknown): void {
    if (this.#panels.has(of)) {
      panel.dispose();
      return;
    }
    this.#panels.set(of, panel);
    panel.onDidDispose(() => this.#panels.delete(of));
    fill(panel);
  }
}

function documentOf(
  webview: vscode.Webview,
  { extension, title, body, script }: Pick<PagePanelOptions, "extension" | "title" | "body" | "script">,
): string {
  const address = (...inside: readonly string[]) =>
    webview.asWebviewUri(vscode.Uri.joinPath(extension, ...inside)).toString();
  const nonce = randomBytes(16).toString("base64");
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src ${webview.cspSource}; script-src 'nonce-${nonce}'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="stylesheet" href="${address("media", "sheet.css")}">
</head>
<body>
${body}
<script nonce="${nonce}" src="${address("dist", script)}"></script>
</body>
</html>`;
}
