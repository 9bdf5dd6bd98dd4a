// The viewers that are open: the custom editor behind each, what goes to and comes from its page, and which of them a
// command speaks to.

import { randomBytes } from "node:crypto";
import * as vscode from "vscode";
import type { ToHost, ToViewer } from "../messages/contract";
import { viewType } from "./bout-file";
import type { BoutDocuments } from "./documents";
import type { Picks } from "./picks";
import type { Recordings } from "./recordings";
import { ShownRecordings } from "./shown-recordings";
import type { Tagger } from "./tagger";
import type { TextBeside } from "./text-beside";
import { View } from "./view";
import { viewerPage } from "./viewer-page";
import { isWritable } from "./writer";

export interface ViewerServices {
  readonly documents: BoutDocuments;
  readonly tagger: Tagger;
  readonly text: TextBeside;
  readonly recordings: Recordings;
  readonly picks: Picks;
  /** Asks what would be cut, or cuts it. */
  readonly clips: (view: View, message: Extract<ToHost, { type: "clips" }>) => void;
  /** Looks for a recording that a bout file names and that is not there. */
  readonly findAgain: (document: vscode.TextDocument, file: string) => Promise<void>;
  /** Names of the keys the user has changed, by command. */
  readonly keys: () => Promise<Readonly<Record<string, string>>>;
  /** Runs a command for which the page shows a button. */
  readonly press: (view: View, message: Extract<ToHost, { type: "command" }>) => void;
}

/** How long a viewer that is being opened may take, in milliseconds. */
const openingDeadline = 10_000;

export interface ShowOptions {
  /** Left out: the active group. */
  readonly viewColumn?: vscode.ViewColumn;
  /** Whether the text is opened beside it, as is usual. */
  readonly withText?: boolean;
  /** For a look: the next one opened so takes its place, the text is not opened beside it, and the focus stays. */
  readonly passing?: boolean;
}

/** How the run of stretches a viewer was asked to play has ended. */
export type Played = Omit<Extract<ToHost, { type: "played" }>, "type">;

export class Viewers implements vscode.CustomTextEditorProvider, vscode.Disposable {
  readonly #extension: vscode.Uri;
  readonly #services: ViewerServices;
  readonly #views = new Set<View>();
  readonly #subscriptions: vscode.Disposable[] = [];
  readonly #opened = new vscode.EventEmitter<View>();
  readonly #played = new vscode.EventEmitter<Played>();
  readonly onDidPlay = this.#played.event;
  readonly #context: Record<"boutline.viewerFocused" | "boutline.placing", boolean> = {
    "boutline.viewerFocused": false,
    "boutline.placing": false,
  };
  readonly #recordings: ShownRecordings;
  /** Addresses of documents whose viewer is being opened beside a page of figures, where the text would be a third column. */
  readonly #withoutText = new Set<string>();

  constructor(extension: vscode.Uri, services: ViewerServices) {
    this.#extension = extension;
    this.#services = services;
    this.#recordings = new ShownRecordings(services.documents, services.recordings, services.findAgain);
    this.#subscriptions.push(
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length === 0) return;
        for (const view of this.#of(document)) {
          view.scheduleScene();
          void this.#recordings.give(view, false);
          services.text.follow(document, view.playhead);
        }
      }),
      vscode.workspace.onDidSaveTextDocument((document) => void this.#lookAtDisk(document)),
      vscode.workspace.onDidGrantWorkspaceTrust(() => {
        for (const view of this.#views) void this.#recordings.give(view, true);
      }),
      vscode.window.onDidChangeVisibleTextEditors((editors) => {
        for (const view of this.#views)
          if (editors.some(({ document }) => document === view.document))
            services.text.follow(view.document, view.playhead);
      }),
    );
  }

  dispose(): void {
    for (const subscription of this.#subscriptions) subscription.dispose();
    this.#opened.dispose();
    this.#played.dispose();
  }

  async resolveCustomTextEditor(document: vscode.TextDocument, panel: vscode.WebviewPanel): Promise<void> {
    const { recordings, text } = this.#services;
    const view = new View(document, panel, this.#services.documents);
    this.#views.add(view);
    view.withScene = () => this.#services.picks.picked(document, false);
    panel.webview.options = {
      enableScripts: true,
      localResourceRoots: ["dist", "media"].map((folder) => vscode.Uri.joinPath(this.#extension, folder)),
    };
    const received = panel.webview.onDidReceiveMessage((raw: unknown) => {
      const message = view.receive(raw);
      if (message !== undefined) this.#received(view, message);
    });
    const moved = panel.onDidChangeViewState(() => {
      view.visibilityChanged();
      this.#showContext();
      if (!panel.visible) return;
      // A recording may have been put in its place meanwhile, or the bout file made writable.
      void this.#recordings.give(view, this.#recordings.anyMissing(view));
      void this.#lookAtDisk(document);
    });
    panel.onDidDispose(() => {
      received.dispose();
      moved.dispose();
      this.#views.delete(view);
      view.dispose();
      this.#recordings.forget(view);
      this.#showContext();
    });
    const [media, writable] = await Promise.all([recordings.origin(view.id), isWritable(document.uri)]);
    if (!this.#views.has(view)) return;
    view.writable = writable;
    panel.webview.html = this.#page(view, media);
    this.#opened.fire(view);
    if (!this.#withoutText.has(document.uri.toString())) await text.openUnlessThere(document);
  }

  /** The viewer a command speaks to: the one in front, else one that shows the text being worked on. */
  get current(): View | undefined {
    const views = [...this.#views];
    const document = vscode.window.activeTextEditor?.document;
    return (
      views.find(({ panel }) => panel.active) ??
      views.find((view) => view.document === document && view.panel.visible)
    );
  }

  /** Makes a viewing copy of a recording of the bout in front. */
  async makeCopy(): Promise<void> {
    const view = this.current;
    if (view === undefined)
      void vscode.window.showInformationMessage("Open a bout file in the viewer first.");
    else await this.#recordings.makeCopy(view);
  }

  /** A viewer of this document in front, opened where there is none; undefined where it could not be opened. */
  async show(
    uri: vscode.Uri,
    { viewColumn, passing = false, withText = !passing }: ShowOptions = {},
  ): Promise<View | undefined> {
    const name = uri.toString();
    const there = [...this.#views].find(({ document }) => document.uri.toString() === name);
    if (there !== undefined) {
      there.panel.reveal(there.panel.viewColumn, true);
      return there;
    }
    const opened = new Promise<View | undefined>((resolve) => {
      const done = (view: View | undefined) => {
        clearTimeout(timer);
        subscription.dispose();
        resolve(view);
      };
      const timer = setTimeout(() => done(undefined), openingDeadline);
      const subscription = this.#opened.event((view) => {
        if (view.document.uri.toString() === name) done(view);
      });
    });
    if (!withText) this.#withoutText.add(name);
    try {
      await vscode.commands.executeCommand("vscode.openWith", uri, viewType, {
        viewColumn: viewColumn ?? vscode.ViewColumn.Active,
        preview: passing,
        preserveFocus: passing,
      });
      return await opened;
    } finally {
      this.#withoutText.delete(name);
    }
  }

  /** Takes the viewer of a document to the front and has it do something. */
  async tell(uri: vscode.Uri, message: ToViewer, options: ShowOptions = {}): Promise<void> {
    (await this.show(uri, options))?.send(message);
  }

  #of(document: vscode.TextDocument): View[] {
    return [...this.#views].filter((view) => view.document === document);
  }

  #page(view: View, media: string | undefined): string {
    const { webview } = view.panel;
    const address = (...path: string[]) =>
      webview.asWebviewUri(vscode.Uri.joinPath(this.#extension, ...path)).toString();
    return viewerPage({
      nonce: randomBytes(16).toString("hex"),
      own: webview.cspSource,
      media,
      style: address("media", "viewer.css"),
      script: address("dist", "viewer.js"),
      title: "Boutline viewer",
      settings: {},
    });
  }

  #received(view: View, message: ToHost): void {
    const { tagger, text } = this.#services;
    switch (message.type) {
      case "ready":
        this.#showContext();
        void this.#recordings.give(view, true);
        void this.#services.keys().then((keys) => view.showKeys(keys));
        break;
      case "focus":
      case "placing":
        this.#showContext();
        break;
      case "playhead":
        text.follow(view.document, message.at);
        break;
      case "command":
        this.#services.press(view, message);
        break;
      case "field":
        void tagger.setField(view, message);
        break;
      case "fit":
        void tagger.place(view, message.stamp.at, { kind: "fit", points: message.points });
        break;
      case "platforms":
        void tagger.place(view, message.stamp.at, {
          kind: "platforms",
          left: message.left,
          right: message.right,
        });
        break;
      case "pick":
        this.#services.picks.ask(view, message.pick);
        break;
      case "pick by hand":
        this.#services.picks.byHand(view, message);
        break;
      case "clips":
        this.#services.clips(view, message);
        break;
      case "open text":
        void text.openAt(view.document.uri, message.line, message.column);
        break;
      case "played":
        this.#played.fire(message);
        break;
      case "tried":
        void this.#recordings.tried(view, message);
        break;
      case "stamp":
      case "key":
      case "whole scene":
        break;
    }
  }

  #showContext(): void {
    const active = [...this.#views].find(({ panel }) => panel.active);
    this.#setContext("boutline.viewerFocused", active?.focused ?? false);
    this.#setContext("boutline.placing", active?.placing ?? false);
  }

  #setContext(name: "boutline.viewerFocused" | "boutline.placing", value: boolean): void {
    if (this.#context[name] === value) return;
    this.#context[name] = value;
    void vscode.commands.executeCommand("setContext", name, value);
  }

  async #lookAtDisk(document: vscode.TextDocument): Promise<void> {
    for (const view of this.#of(document)) {
      const writable = await isWritable(document.uri);
      if (writable === view.writable) continue;
      view.writable = writable;
      view.scheduleScene();
    }
  }
}
