// Where VS Code starts Boutline. Only names are registered here; the rest is loaded when somebody first uses it, so that
// a window in which nobody does pays next to nothing.

import * as vscode from "vscode";
import { isBoutFile, ruleScheme, viewType } from "./bout-file";
import type { Boutline } from "./boutline";

let started: Promise<Boutline> | undefined;

export function activate(context: vscode.ExtensionContext): void {
  const boutline = () =>
    (started ??= import("./boutline").then(({ Boutline }) => {
      const made = new Boutline(context);
      context.subscriptions.push(made);
      return made;
    }));
  const startFor = (document: vscode.TextDocument) => {
    if (isBoutFile(document)) void boutline();
  };

  context.subscriptions.push(
    vscode.window.registerCustomEditorProvider(
      viewType,
      {
        resolveCustomTextEditor: async (document, panel) =>
          (await boutline()).viewers.resolveCustomTextEditor(document, panel),
      },
      {
        // The page keeps its place and its decoder while its tab is hidden; what it shows is brought up to date after.
        webviewOptions: { retainContextWhenHidden: true },
        supportsMultipleEditorsPerDocument: true,
      },
    ),
    vscode.window.registerWebviewPanelSerializer("boutline.sheet", {
      deserializeWebviewPanel: async (panel, kept: unknown) => (await boutline()).restoreSheet(panel, kept),
    }),
    vscode.workspace.registerTextDocumentContentProvider("boutline-keys", {
      provideTextDocumentContent: async () => (await boutline()).keysPage(),
    }),
    vscode.workspace.registerTextDocumentContentProvider(ruleScheme, {
      provideTextDocumentContent: async (uri) => (await boutline()).rulePage(uri),
    }),
    // Findings are shown in a text whose viewer was never opened, too.
    vscode.workspace.onDidOpenTextDocument(startFor),
    ...commandIds(context).map((id) =>
      vscode.commands.registerCommand(id, async (...args: unknown[]) => (await boutline()).run(id, args)),
    ),
  );
  for (const document of vscode.workspace.textDocuments) startFor(document);
}

/** VS Code waits for this, so that no ffmpeg outlives it and nothing is left half-made. */
export async function deactivate(): Promise<void> {
  await (await started)?.end();
}

/** The commands of the manifest, which is made from the command table. */
function commandIds({ extension }: vscode.ExtensionContext): readonly string[] {
  const manifest = extension.packageJSON as {
    readonly contributes: { readonly commands: readonly { readonly command: string }[] };
  };
  return manifest.contributes.commands.map(({ command }) => command);
}
