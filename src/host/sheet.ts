// The study sheet of a bout file as a panel beside its viewer: made anew after each edit, and asking the viewer to play
// the phrases behind a figure.

import { createHash } from "node:crypto";
import * as vscode from "vscode";
import { fromSheet, keptSheet, type FromSheet, type ToSheet } from "../messages/sheet";
import type { TagDefinitions } from "../figures";
import type { SectionName, Stretch } from "../pages";
import { textFindings } from "../rules";
import type { BoutDocuments } from "./documents";
import { OpenPanels, PagePanel } from "./page-panel";

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
  /** Opens the text with the cursor at a place, both from 1. */
  readonly openText: (document: vscode.TextDocument, line: number, column: number) => PromiseLike<void>;
}

/** The panel's kind, by which VS Code brings it back after a reload of the window. */
const sheetViewType = "boutline.sheet";

/** What every panel of a sheet has in common. */
export const sheetDocument = {
  body: `<main id="sheet"></main>
<p id="said" class="said" role="status"></p>`,
  script: "sheet.js",
  pause: 150,
};

const open = new OpenPanels();

/** Opens the study sheet of a bout file, or takes its panel to the front. */
export function openSheet(
  context: Pick<vscode.ExtensionContext, "extensionUri">,
  document: vscode.TextDocument,
  services: SheetServices,
): void {
  if (!open.reveal(document.uri.toString())) fill(newPanel(), context, document, services);
}

/** Fills a panel that was open when the window was closed; one whose file is gone is closed. */
export async function restoreSheet(
  context: Pick<vscode.ExtensionContext, "extensionUri">,
  panel: vscode.WebviewPanel,
  kept: unknown,
  services: SheetServices,
): Promise<void> {
  const [document] = await keptDocuments(kept);
  if (document === undefined) panel.dispose();
  else fill(panel, context, document, services);
}

/** The documents a panel was made of; none where one of them can't be opened any more. */
export async function keptDocuments(kept: unknown): Promise<readonly vscode.TextDocument[]> {
  const files = keptSheet.safeParse(kept).data?.files ?? [];
  try {
    return await Promise.all(
      files.map((file) => vscode.workspace.openTextDocument(vscode.Uri.parse(file, true))),
    );
  } catch {
    return [];
  }
}

function fill(
  empty: vscode.WebviewPanel,
  { extensionUri }: Pick<vscode.ExtensionContext, "extensionUri">,
  document: vscode.TextDocument,
  services: SheetServices,
): void {
  open.fill(
    document.uri.toString(),
    empty,
    (panel) => new SheetPanel(extensionUri, panel, document, services),
  );
}

function newPanel(): vscode.WebviewPanel {
  return vscode.window.createWebviewPanel(sheetViewType, "Study sheet", vscode.ViewColumn.Beside, {
    enableFindWidget: true,
  });
}

class SheetPanel {
  readonly #extension: vscode.Uri;
  readonly #panel: PagePanel<ToSheet>;
  readonly #services: SheetServices;
  #document: vscode.TextDocument;
  /** The sections the reader has unfolded; undefined until the reader says otherwise than the page came. */
  #open: ReadonlySet<SectionName> | undefined;

  constructor(
    extension: vscode.Uri,
    panel: vscode.WebviewPanel,
    document: vscode.TextDocument,
    services: SheetServices,
  ) {
    this.#extension = extension;
    this.#document = document;
    this.#services = services;
    panel.title = `Study sheet: ${fileName(document)}`;
    this.#panel = new PagePanel(panel, {
      ...sheetDocument,
      extension,
      title: "Study sheet",
      make: () => this.#showPage(),
      received: (message) => this.#received(message),
    });
    this.#panel.add(
      vscode.workspace.onDidChangeTextDocument(({ document: changed }) => {
        if (changed === this.#document) this.#panel.changed();
      }),
      // Closed and opened again, the file has another document.
      vscode.workspace.onDidOpenTextDocument((opened) => {
        if (opened.uri.toString() !== this.#document.uri.toString()) return;
        this.#document = opened;
        this.#panel.changed();
      }),
    );
  }

  /** Makes the page of the newest text and shows it. */
  async #showPage(): Promise<void> {
    const pages = await import("../pages");
    const { version } = this.#document;
    const { reading, study } = this.#services.documents.read(this.#document);
    const html =
      study === undefined
        ? pages.unreadablePage(fileName(this.#document), textFindings(reading))
        : pages.studyPage(study, this.#open, await this.#definitions());
    if (version !== this.#document.version) return this.#showPage();
    this.#panel.post({ type: "page", version, html, files: [this.#document.uri.toString()] });
  }

  async #received(raw: unknown): Promise<void> {
    const message = fromSheet.safeParse(raw);
    if (!message.success) return;
    switch (message.data.type) {
      case "ready":
        this.#panel.listens();
        if (message.data.open !== undefined) await this.#unfold(message.data.open);
        await this.#panel.now();
        break;
      case "sections":
        await this.#unfold(message.data.open);
        await this.#panel.now();
        break;
      case "meaning":
        await this.#showMeaning(message.data.section);
        break;
      case "line":
        await this.#services.openText(this.#document, message.data.line, message.data.column);
        break;
      case "save":
        await this.#save();
        break;
      case "evidence":
        await this.#playEvidence(message.data);
        break;
    }
  }

  async #unfold(names: readonly string[]): Promise<void> {
    const { isSectionName } = await import("../pages");
    this.#open = new Set(names.filter(isSectionName));
  }

  /** The page that ships with what every figure means, at its section. */
  async #showMeaning(name: string): Promise<void> {
    const { isSectionName, sectionTitles } = await import("../pages");
    if (!isSectionName(name)) return;
    const page = vscode.Uri.joinPath(this.#extension, "media", "figures.md");
    const fragment = sectionTitles[name]
      .toLowerCase()
      .replace(/[^a-z ]/g, "")
      .replaceAll(" ", "-");
    await vscode.commands.executeCommand("markdown.showPreview", page.with({ fragment }));
  }

  /** Writes the sheet as one HTML file where the reader says. */
  async #save(): Promise<void> {
    const { study } = this.#services.documents.read(this.#document);
    if (study === undefined) return;
    const name = fileName(this.#document).replace(/\.bout\.json$/, "");
    const target = await vscode.window.showSaveDialog({
      defaultUri: vscode.Uri.joinPath(this.#document.uri, "..", `${name} study sheet.html`),
      filters: { "Web page": ["html"] },
      title: "Save the study sheet",
    });
    if (target === undefined) return;
    const css = new TextDecoder().decode(
      await vscode.workspace.fs.readFile(vscode.Uri.joinPath(this.#extension, "media", "sheet.css")),
    );
    const style = { css, hash: createHash("sha256").update(css).digest("base64") };
    const { studyFile } = await import("../pages");
    const html = studyFile(study, style, await this.#definitions());
    await vscode.workspace.fs.writeFile(target, new TextEncoder().encode(html));
    this.#panel.post({
      type: "say",
      message: `Saved as ${target.path.slice(target.path.lastIndexOf("/") + 1)}.`,
    });
  }

  /** What the coach's own words mean, from `tags.json` beside the bout file. */
  async #definitions(): Promise<TagDefinitions> {
    try {
      const beside = vscode.Uri.joinPath(this.#document.uri, "..", "tags.json");
      const text = new TextDecoder().decode(await vscode.workspace.fs.readFile(beside));
      const { readTagDefinitions } = await import("../figures");
      const read = readTagDefinitions(text);
      return read.ok ? read.value : {};
    } catch {
      return {};
    }
  }

  async #playEvidence({ key, title, entries, version }: Extract<FromSheet, { type: "evidence" }>) {
    if (version !== this.#document.version) {
      // The entries have moved since: the new page knows where they are now.
      await this.#panel.now();
      this.#panel.post({ type: "again", key });
      return;
    }
    await playPhrases(this.#services, this.#document, title, entries, (message) =>
      this.#panel.post({ type: "say", message }),
    );
  }
}

/** Plays phrases in the viewer of their bout and says so. */
export async function playPhrases(
  { documents, play }: SheetServices,
  document: vscode.TextDocument,
  title: string,
  entries: readonly number[],
  say: (message: string) => void,
): Promise<void> {
  const { study } = documents.read(document);
  if (study === undefined) return;
  const { stretchesOf } = await import("../pages");
  const stretches = stretchesOf(study.bout, entries);
  if (stretches.length === 0) {
    say(`Nothing to play for \u201c${title}\u201d.`);
    return;
  }
  say(`Playing \u201c${title}\u201d: ${stretches.length} in a row.`);
  await play(document, title, stretches);
}

export function fileName({ uri }: Pick<vscode.TextDocument, "uri">): string {
  return uri.path.slice(uri.path.lastIndexOf("/") + 1);
}
