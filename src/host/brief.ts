// The brief on a fencer as a panel: made in a thread of its own from the bout files of the open folders, again whenever
// one of them changes; its figures play their phrases across recordings, and its plan is kept in a file beside the bouts.

import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import path from "node:path";
import * as vscode from "vscode";
import type { Brief, ShownPlan, Tie } from "../figures/brief";
import {
  briefSubject,
  fromBrief,
  type BriefSubject,
  type FigureAsked,
  type FromBrief,
  type ToBrief,
} from "../messages/brief";
import { briefPlayer, briefPieces, briefFile, planNotes, readEvidence } from "../pages/brief";
import { escaped } from "../pages/markup";
import type { Shelf } from "../shelf";
import { BriefThread, stopped, type BriefMade } from "../shelf/brief-thread";
import type { NamedEvidence } from "../shelf/brief-bouts";
import type { Result } from "../bout/result";
import { boutFiles, isBoutFile } from "./bout-file";
import { filesOf, foldersByBouts, openFolders, shelfOf } from "./brief-bout-files";
import { chooseSubject } from "./brief-choice";
import { BriefPlan } from "./brief-plan";
import { OpenPanels, PagePanel } from "./page-panel";
import { Walk, type WalkServices } from "./walk";

type Context = Pick<vscode.ExtensionContext, "extensionUri" | "extension" | "storageUri">;

/** The panel's kind, by which VS Code brings it back after a reload of the window. */
const viewType = "boutline.brief";
/** Milliseconds after which reading is told and can be stopped. */
const patience = 400;

const open = new OpenPanels();

/** Asks for a fencer, unless one is given, and against whom, and opens the brief or takes its panel to the front. */
export async function openBrief(
  context: Context,
  services: WalkServices,
  fencer: string | undefined,
): Promise<void> {
  if (openFolders().length === 0) {
    void vscode.window.showInformationMessage(
      "Open a folder with bout files first; a brief is made of them.",
    );
    return;
  }
  const stop = new AbortController();
  const shelf = shelfOf(context, undefined, stop.signal);
  const reading = shelf.refresh();
  await told(reading, stop);
  if (stop.signal.aborted) return;
  const subject = await chooseSubject(shelf.bouts, fencer);
  if (subject === undefined) return;
  if (open.reveal(keyOf(subject))) return;
  const panel = vscode.window.createWebviewPanel(viewType, "Brief", vscode.ViewColumn.Active, {
    enableFindWidget: true,
  });
  fill(panel, context, subject, services, shelf);
}

/** Fills a panel that was open when the window was closed. */
export function restoreBrief(
  context: Context,
  panel: vscode.WebviewPanel,
  kept: unknown,
  services: WalkServices,
): void {
  const subject =
    typeof kept === "object" && kept !== null && "subject" in kept
      ? briefSubject.safeParse(kept.subject)
      : undefined;
  if (subject?.success !== true) panel.dispose();
  else fill(panel, context, subject.data, services, undefined);
}

function fill(
  empty: vscode.WebviewPanel,
  context: Context,
  subject: BriefSubject,
  services: WalkServices,
  shelf: Shelf | undefined,
): void {
  open.fill(keyOf(subject), empty, (panel) => new BriefPanel(context, panel, subject, services, shelf));
}

function keyOf({ fencer, against }: BriefSubject): string {
  return JSON.stringify([fencer, against ?? null]);
}

/** Shows that files are being read where that takes its time, with a way to stop it. */
async function told(reading: Promise<unknown>, stop: AbortController): Promise<void> {
  const soon = new Promise<"late">((resolve) => setTimeout(() => resolve("late"), patience));
  if ((await Promise.race([reading, soon])) !== "late") return;
  await vscode.window.withProgress(
    { location: vscode.ProgressLocation.Notification, title: "Reading the bout files", cancellable: true },
    (_, cancelled) => {
      cancelled.onCancellationRequested(() => stop.abort());
      return reading;
    },
  );
}

/** What the panel shows, and what everything on it refers to. */
interface Made extends BriefMade {
  readonly number: number;
}

class BriefPanel {
  readonly #subject: BriefSubject;
  readonly #context: Context;
  readonly #panel: PagePanel<ToBrief>;
  readonly #services: WalkServices;
  readonly #thread: BriefThread;
  readonly #plan: BriefPlan;
  /** Bout files that have changed since the shelf has looked at them. */
  readonly #changedFiles = new Set<string>();
  #shelf: Shelf | undefined;
  #reading: AbortController | undefined;
  #made: Made | undefined;
  /** Counts the briefs made here. */
  #count = 0;
  /** An edition has changed, by which bouts are counted. */
  #afresh = false;
  #again: Promise<void> = Promise.resolve();
  #walk: Walk | undefined;

  constructor(
    context: Context,
    panel: vscode.WebviewPanel,
    subject: BriefSubject,
    services: WalkServices,
    shelf: Shelf | undefined,
  ) {
    this.#subject = subject;
    this.#context = context;
    this.#services = services;
    this.#shelf = shelf;
    this.#thread = new BriefThread(
      vscode.Uri.joinPath(context.extensionUri, "dist", "brief-worker.js").fsPath,
    );
    this.#plan = new BriefPlan(
      subject,
      () => foldersByBouts(filesOf(this.#shelf?.bouts ?? [], subject)),
      (message) => {
        this.#panel.post(message);
        if (message.type === "kept") void this.#showPlan();
      },
    );
    panel.title = `Brief: ${subject.fencer}${subject.against === undefined ? "" : ` against ${subject.against}`}`;
    this.#panel = new PagePanel(panel, {
      extension: context.extensionUri,
      title: "Brief",
      body: '<main id="brief"></main>',
      script: "brief.js",
      pause: 300,
      make: () => this.#make(),
      received: (message) => this.#received(message),
    });
    this.#panel.add(
      this.#watch(boutFiles.pattern, (uri) => {
        this.#changedFiles.add(uri.fsPath);
        this.#panel.changed();
      }),
      this.#watch("**/*.edition.json", () => {
        this.#afresh = true;
        this.#panel.changed();
      }),
      this.#watch(`**/*.plan.json`, () => void this.#planChanged()),
      vscode.workspace.onDidSaveTextDocument(({ uri }) => {
        if (uri.fsPath === this.#plan.file) void this.#planChanged();
      }),
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length > 0 && isBoutFile(document)) this.#panel.changed();
      }),
      vscode.workspace.onDidChangeWorkspaceFolders(() => {
        this.#shelf = undefined;
        this.#panel.changed();
      }),
    );
    this.#panel.onDispose(() => {
      this.#reading?.abort();
      this.#walk?.dispose();
      this.#plan.dispose();
      void this.#thread.stop();
    });
  }

  #watch(pattern: string, changed: (uri: vscode.Uri) => void): vscode.Disposable {
    const watcher = vscode.workspace.createFileSystemWatcher(pattern);
    return vscode.Disposable.from(
      watcher,
      watcher.onDidCreate(changed),
      watcher.onDidChange(changed),
      watcher.onDidDelete(changed),
    );
  }

  /** Makes the brief of the newest texts and shows it; one after another. */
  #make(): Promise<void> {
    this.#again = this.#again.then(() => this.#makeNow()).catch(() => undefined);
    return this.#again;
  }

  async #makeNow(): Promise<void> {
    if (!this.#panel.listening) return;
    const since = Date.now();
    const progress = (done: number, of: number) => {
      if (Date.now() - since > patience) this.#panel.post({ type: "reading", done, of });
    };
    const stop = (this.#reading = new AbortController());
    const afresh = this.#afresh;
    this.#afresh = false;
    const made = await this.#readAndMake(progress, afresh, stop.signal);
    this.#reading = undefined;
    if (made.ok) {
      this.#made = { ...made.value, number: ++this.#count };
      this.#showPage(this.#made);
      await this.#showPlan();
      return;
    }
    this.#made = undefined;
    this.#panel.post({
      type: "page",
      made: ++this.#count,
      top: noBrief(made.problem === stopped ? "Reading the bout files was stopped." : `${made.problem}.`),
      rest: "",
      subject: this.#subject,
      plan: false,
    });
  }

  async #readAndMake(
    progress: (done: number, of: number) => void,
    afresh: boolean,
    signal: AbortSignal,
  ): Promise<Result<BriefMade, string>> {
    if (this.#shelf === undefined) {
      this.#shelf = shelfOf(this.#context, progress, signal);
      await this.#shelf.refresh();
    } else {
      const files = [...this.#changedFiles];
      this.#changedFiles.clear();
      await this.#shelf.changed(files);
    }
    if (signal.aborted) {
      // What was read so far is not the whole shelf.
      this.#shelf = undefined;
      return { ok: false, problem: stopped };
    }
    const stopThread = () => void this.#thread.stop();
    signal.addEventListener("abort", stopThread);
    const files = filesOf(this.#shelf.bouts, this.#subject);
    const { fencer, against } = this.#subject;
    const made = await this.#thread.brief({ files, fencer, against, afresh }, progress);
    signal.removeEventListener("abort", stopThread);
    return made;
  }

  #showPage({ brief, leftOut, number }: Made): void {
    const { fencer, against } = brief;
    this.#panel.panel.title = `Brief: ${fencer.name}${against === null ? "" : ` against ${against.name}`}`;
    const { top, rest } = briefPieces(brief, leftOut);
    this.#panel.post({ type: "page", made: number, top, rest, subject: this.#subject, plan: true });
  }

  async #planChanged(): Promise<void> {
    await this.#plan.flush();
    await this.#showPlan();
  }

  /** The plan as its file has it now, looked up in the bouts of the brief. */
  async #showPlan(): Promise<void> {
    const made = this.#made;
    if (made === undefined) return;
    const { shown, problem } = await this.#shownPlan();
    if (this.#made !== made || shown === undefined) return;
    const notes = planNotes(made.brief, shown, briefPlayer(made.brief, "panel"));
    this.#panel.post({
      type: "plan",
      file: this.#plan.name,
      things: shown.things.map(({ words }, at) => ({ words, notes: notes[at] ?? "" })),
      problem:
        problem === undefined ? "" : `${this.#plan.name} can't be used: ${problem}. It stays as it is.`,
    });
  }

  async #shownPlan(): Promise<{ readonly shown?: ShownPlan; readonly problem?: string }> {
    const read = await this.#plan.read();
    const shown = await this.#thread.plan(read.ok ? read.value : undefined, path.dirname(this.#plan.file));
    return {
      ...(shown.ok ? { shown: shown.value } : {}),
      ...(read.ok ? {} : { problem: read.problem }),
    };
  }

  async #received(raw: unknown): Promise<void> {
    const parsed = fromBrief.safeParse(raw);
    if (!parsed.success) return;
    const message = parsed.data;
    switch (message.type) {
      case "ready":
        this.#panel.listens();
        this.#tellWalk();
        await this.#panel.now();
        break;
      case "play":
        await this.#play(message.figure);
        break;
      case "words":
        await this.#type(message);
        break;
      case "tie":
        await this.#tie(message.thing);
        break;
      case "untie":
        await this.#plan.untie(message.thing, message.about);
        await this.#showPlan();
        break;
      case "walk":
        await this.#goOn(message.go);
        break;
      case "save":
        await this.#save();
        break;
      case "stop reading":
        this.#reading?.abort();
        break;
      case "read again":
        await this.#panel.now();
        break;
      case "open plan":
        await vscode.window.showTextDocument(vscode.Uri.file(this.#plan.file), {
          viewColumn: this.#otherColumn(),
        });
        break;
    }
  }

  // ---- Playing

  /** The phrases behind a figure of the page; undefined where the page is of an older brief. */
  async #named({ evidence, made }: FigureAsked): Promise<readonly NamedEvidence[] | undefined> {
    const now = this.#made;
    if (now === undefined || made !== now.number) return undefined;
    const read = readEvidence(evidence, now.brief.bouts);
    const named = read === undefined ? undefined : await this.#thread.named(read);
    return named?.ok === true ? named.value : undefined;
  }

  async #play(figure: FigureAsked): Promise<void> {
    const evidence = await this.#named(figure);
    if (evidence === undefined) {
      if (this.#made === undefined) return;
      // The brief has been made again meanwhile: the new page knows where the phrases are now.
      this.#showPage(this.#made);
      await this.#showPlan();
      this.#panel.post({ type: "again", key: figure.key });
      return;
    }
    if (evidence.length === 0) {
      this.#panel.post({ type: "say", message: `Nothing to play for \u201c${figure.title}\u201d.` });
      return;
    }
    this.#walk?.dispose();
    const bouts = this.#made?.brief.bouts ?? [];
    const files = new Map(
      filesOf(this.#shelf?.bouts ?? [], this.#subject).map((one) => [one.path, one.file]),
    );
    this.#walk = new Walk(
      {
        title: figure.title,
        evidence,
        nameOf: (file) => nameOfBout(bouts, files.get(file), file),
        column: () => this.#otherColumn(),
        changed: () => this.#tellWalk(),
      },
      this.#services,
    );
    await this.#walk.next();
  }

  async #goOn(go: Extract<FromBrief, { type: "walk" }>["go"]): Promise<void> {
    const walk = this.#walk;
    if (go === "stop") {
      this.#walk = undefined;
      walk?.dispose();
      this.#tellWalk();
    } else if (go === "next") await walk?.next();
    else await walk?.previous();
  }

  #tellWalk(): void {
    this.#panel.post({ type: "playing", now: this.#walk?.now ?? null });
  }

  /** Beside the panel, so that brief and picture are seen together. */
  #otherColumn(): vscode.ViewColumn {
    return this.#panel.panel.viewColumn === vscode.ViewColumn.One
      ? vscode.ViewColumn.Two
      : vscode.ViewColumn.One;
  }

  // ---- The plan

  async #type({ thing, words, base, offer }: Extract<FromBrief, { type: "words" }>): Promise<void> {
    const evidence = offer === undefined ? undefined : await this.#named(offer);
    const tie: Tie | undefined =
      offer === undefined || evidence === undefined || evidence.length === 0
        ? undefined
        : { about: offer.title, bouts: evidence.map(({ tied }) => tied) };
    this.#plan.type({ thing, words, base, offer: tie });
  }

  async #tie(thing: number): Promise<void> {
    const asked = this.#walk?.asked;
    if (asked === undefined) return;
    await this.#plan.tie(thing, { about: asked.title, bouts: asked.evidence.map(({ tied }) => tied) });
    await this.#showPlan();
    this.#panel.post({ type: "say", message: `“${asked.title}” is tied to ${thing + 1}.` });
  }

  // ---- The file

  /** Writes the brief as one HTML file where the reader says; the editor asks before one is written over. */
  async #save(): Promise<void> {
    const made = this.#made;
    if (made === undefined) return;
    await this.#plan.flush();
    const name = this.#plan.name.replace(/\.plan\.json$/, " brief.html");
    const target = await vscode.window.showSaveDialog({
      defaultUri: vscode.Uri.file(path.join(path.dirname(this.#plan.file), name)),
      filters: { "Web page": ["html"] },
      title: "Save the brief",
    });
    if (target === undefined) return;
    const { shown } = await this.#shownPlan();
    const file = vscode.Uri.joinPath(this.#context.extensionUri, "media", "sheet.css").fsPath;
    const css = await readFile(file, "utf8");
    const style = { css, hash: createHash("sha256").update(css).digest("base64") };
    const shownName = target.path.slice(target.path.lastIndexOf("/") + 1);
    try {
      const html = briefFile(made.brief, shown, style);
      await vscode.workspace.fs.writeFile(target, new TextEncoder().encode(html));
      this.#panel.post({ type: "say", message: `Saved as ${shownName}.` });
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      void vscode.window.showErrorMessage(`${shownName} can't be written: ${reason}`);
    }
  }
}

function nameOfBout(bouts: Brief["bouts"], file: string | undefined, full: string): string {
  const bout = bouts.find((one) => one.file === file);
  const name = path.basename(full).replace(/\.bout\.json$/, "");
  return bout === undefined ? name : `${name}, ${bout.opponent.name}`;
}

function noBrief(problem: string): string {
  return `<article class="sheet brief"><header><p class="kind">Brief</p><h1>No brief</h1>
<p class="answer">${escaped(problem)}</p>
<p><button type="button" class="meaning" data-key="again" data-do="read again">Read the bout files again</button></p></header></article>`;
}
