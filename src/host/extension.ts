// Where VS Code starts Boutline: puts the parts together and ties every command of the table to what it does.

import path from "node:path";
import { readFile } from "node:fs/promises";
import { parse } from "jsonc-parser";
import * as vscode from "vscode";
import { commandById, commands, type Command } from "../messages/commands";
import { timeOf } from "../bout/schema";
import { boundKeys, changedKeys } from "./bound-keys";
import { Diagnostics } from "./diagnostics";
import { BoutDocuments, isBoutFile } from "./documents";
import { Recordings } from "./recordings";
import { Tagger } from "./tagger";
import { TextBeside } from "./text-beside";
import type { View } from "./view";
import { Viewers, viewType } from "./viewers";
import { Writer } from "./writer";

export function activate(context: vscode.ExtensionContext): void {
  const documents = new BoutDocuments();
  const tagger = new Tagger(new Writer(documents));
  const text = new TextBeside(context.extensionUri, documents);
  const recordings = new Recordings(context);
  const viewers: Viewers = new Viewers(context.extensionUri, {
    documents,
    tagger,
    text,
    recordings,
    keys: async () => changedKeys(await userKeys(context)),
    press: (view, { command: id, stamp }) => {
      const command = commandById(id);
      if (command !== undefined) void speakTo(view, command, () => stamp.at);
    },
  });
  const keysPages = new vscode.EventEmitter<vscode.Uri>();
  context.subscriptions.push(
    text,
    recordings,
    viewers,
    keysPages,
    new Diagnostics(documents),
    vscode.window.registerCustomEditorProvider(viewType, viewers, {
      // The page keeps its place and its decoder while its tab is hidden; what it shows is brought up to date after.
      webviewOptions: { retainContextWhenHidden: true },
      supportsMultipleEditorsPerDocument: true,
    }),
    vscode.workspace.registerTextDocumentContentProvider(keysPageUri.scheme, {
      onDidChange: keysPages.event,
      provideTextDocumentContent: async () => {
        const { keysPage } = await import("./keys-page");
        return keysPage(boundKeys(await userKeys(context)));
      },
    }),
    ...commands.map((command) =>
      vscode.commands.registerCommand(command.id, (...args: unknown[]) => run(command, args)),
    ),
  );

  async function speakTo(
    view: View,
    { does }: Command,
    frame: () => Promise<number | undefined> | number,
  ): Promise<void> {
    if ("tag" in does) await tagger.tag(view, does.tag, frame());
    else if ("transport" in does) view.send({ type: "transport", action: does.transport });
  }

  async function run(command: Command, args: readonly unknown[]): Promise<void> {
    if ("host" in command.does) {
      await hostCommands[command.does.host]?.(args);
      return;
    }
    const view = viewers.current;
    if (view === undefined)
      void vscode.window.showInformationMessage(
        "Open a bout file in the viewer first; this key speaks to it.",
      );
    else await speakTo(view, command, () => view.frameOnScreen(keyOf(args[0])));
  }

  const hostCommands: Readonly<Record<string, (args: readonly unknown[]) => Promise<unknown>>> = {
    openDemo: async () => {
      const { demoCopy } = await import("./open-demo");
      await viewers.show(await demoCopy(context, false));
      const afresh = "Start Afresh";
      void vscode.window
        .showInformationMessage("This is a copy of the demo: change what you like.", afresh)
        .then(async (answer) => {
          if (answer === afresh) await viewers.show(await demoCopy(context, true));
        });
    },
    newBout: async ([one, all]) => {
      const { newBout } = await import("./new-bout");
      const chosen = Array.isArray(all) ? all.filter(isUri) : isUri(one) ? [one] : [];
      const made = await newBout(chosen);
      if (made !== undefined) await viewers.show(made);
    },
    openViewer: async ([uri]) => {
      const wanted = isUri(uri) ? uri : vscode.window.activeTextEditor?.document.uri;
      if (wanted !== undefined) await viewers.show(wanted);
    },
    openText: async ([uri]) => {
      const wanted = isUri(uri) ? uri : viewers.current?.document.uri;
      if (wanted !== undefined) await text.open(wanted, false);
    },
    showEntry: async ([where]) => {
      const editor = vscode.window.activeTextEditor;
      if (editor === undefined || !isBoutFile(editor.document)) return;
      const line = lineOf(where) ?? editor.selection.active.line;
      const entry = text.entryAt(editor.document, line)?.entry;
      if (entry === undefined)
        void vscode.window.showInformationMessage("There is no entry of the log at or before this line.");
      else await viewers.tell(editor.document.uri, { type: "show", at: timeOf(entry) }, true);
    },
    showSheet: async ([uri]) => {
      const document = await documentOf(isUri(uri) ? uri : undefined);
      if (document === undefined) return;
      const { openSheet } = await import("./sheet");
      openSheet(context, document, {
        documents,
        play: (of, title, stretches) =>
          viewers.tell(of.uri, { type: "play", title, stretches: [...stretches] }),
      });
    },
    showKeys: async () => {
      keysPages.fire(keysPageUri);
      await vscode.commands.executeCommand("markdown.showPreview", keysPageUri);
    },
  };

  /** The bout file meant: the one given, else that of the viewer or the text in front. */
  async function documentOf(uri: vscode.Uri | undefined): Promise<vscode.TextDocument | undefined> {
    const editor = vscode.window.activeTextEditor;
    if (uri !== undefined) return vscode.workspace.openTextDocument(uri);
    return editor !== undefined && isBoutFile(editor.document) ? editor.document : viewers.current?.document;
  }
}

const keysPageUri = vscode.Uri.parse("boutline-keys:/Keys and commands.md");

/** What the user's keybindings.json says; it lies beside the folder extensions keep their files in. */
async function userKeys({ globalStorageUri }: vscode.ExtensionContext): Promise<unknown> {
  if (globalStorageUri.scheme !== "file") return undefined;
  try {
    const file = path.join(globalStorageUri.fsPath, "..", "..", "keybindings.json");
    return parse(await readFile(file, "utf8"), [], { allowTrailingComma: true });
  } catch {
    return undefined;
  }
}

/** The position of the key a command was run by, which its keybinding passes along; null from a menu or the palette. */
function keyOf(args: unknown): string | null {
  return typeof args === "object" && args !== null && "key" in args && typeof args.key === "string"
    ? args.key
    : null;
}

/** The line (from 0) a command of the line numbers' menu was run on. */
function lineOf(where: unknown): number | undefined {
  return typeof where === "object" &&
    where !== null &&
    "lineNumber" in where &&
    typeof where.lineNumber === "number"
    ? where.lineNumber - 1
    : undefined;
}

function isUri(value: unknown): value is vscode.Uri {
  return value instanceof vscode.Uri;
}
