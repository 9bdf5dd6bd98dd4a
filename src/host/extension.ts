// Where VS Code starts Boutline. Only names are registered here; the rest is loaded when somebody first uses it, so that
// a window in which nobody does pays next to nothing.

import * as vscode from "vscode";
import { isBoutFile, ruleScheme, viewType } from "./bout-file";
import type { Boutline } from "./boutline";
import type { BoutNode, BoutsTree } from "./bouts-tree";

let started: Promise<Boutline> | undefined;

export function activate(context: vscode.ExtensionContext): void {
  const boutline = () =>
    (started ??= import("./boutline").then(({ Boutline }) => {
      const made = new Boutline(context, {
        bouts: async () => (await boutsTree()).made.bouts(),
        selected: () => view.selection,
      });
      context.subscriptions.push(made);
      return made;
    }));
  const startFor = (document: vscode.TextDocument) => {
    if (isBoutFile(document)) void boutline();
  };

  const { provider, view, changed } = boutsView();
  const boutsTree = () =>
    (tree ??= import("./bouts-tree").then(({ BoutsTree, itemOf }) => {
      const made = new BoutsTree({
        context,
        view,
        refresh: () => changed.fire(undefined),
        listed: (bouts) => {
          if (vscode.workspace.isTrusted && bouts.length > 0)
            void boutline().then((one) => one.listed(bouts));
        },
      });
      context.subscriptions.push(made);
      return { made, itemOf };
    }));
  provider.tree = boutsTree;
  for (const [id, act] of Object.entries(boutsCommands))
    context.subscriptions.push(
      vscode.commands.registerCommand(id, async (...args: unknown[]) => act((await boutsTree()).made, args)),
    );

  context.subscriptions.push(
    changed,
    view,
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
    vscode.window.registerWebviewPanelSerializer("boutline.compared", {
      deserializeWebviewPanel: async (panel, kept: unknown) =>
        (await boutline()).restoreComparison(panel, kept),
    }),
    vscode.window.registerWebviewPanelSerializer("boutline.brief", {
      deserializeWebviewPanel: async (panel, kept: unknown) => (await boutline()).restoreBrief(panel, kept),
    }),
    vscode.workspace.registerTextDocumentContentProvider("boutline-keys", {
      provideTextDocumentContent: async () => (await boutline()).keysPage(),
    }),
    vscode.workspace.registerTextDocumentContentProvider(ruleScheme, {
      provideTextDocumentContent: async (uri) => (await boutline()).rulePage(uri),
    }),
    // Findings are shown in a text whose viewer was never opened, too.
    vscode.workspace.onDidOpenTextDocument(startFor),
    ...commandIds(context)
      .filter((id) => !(id in boutsCommands))
      .map((id) =>
        vscode.commands.registerCommand(id, async (...args: unknown[]) => (await boutline()).run(id, args)),
      ),
  );
  for (const document of vscode.workspace.textDocuments) startFor(document);
}

interface Tree {
  readonly made: BoutsTree;
  readonly itemOf: (node: BoutNode) => vscode.TreeItem;
}
let tree: Promise<Tree> | undefined;

/** The view "Bouts"; what fills it is loaded when it is first shown. */
function boutsView() {
  const changed = new vscode.EventEmitter<undefined>();
  const provider = {
    tree: undefined as (() => Promise<Tree>) | undefined,
    onDidChangeTreeData: changed.event,
    getChildren: async (node?: BoutNode) => [
      ...((await (await provider.tree?.())?.made.children(node)) ?? []),
    ],
    getTreeItem: async (node: BoutNode) => (await provider.tree?.())?.itemOf(node) ?? new vscode.TreeItem(""),
  };
  const view = vscode.window.createTreeView("boutline.bouts", {
    treeDataProvider: provider,
    showCollapseAll: true,
    canSelectMany: true,
  });
  return { provider, view, changed };
}

const boutsCommands: Readonly<Record<string, (tree: BoutsTree, args: readonly unknown[]) => unknown>> = {
  "boutline.groupBouts": (bouts) => bouts.chooseGrouping(),
  "boutline.filterBouts": (bouts) => bouts.chooseWords(),
  "boutline.showAllBouts": (bouts) => bouts.filter(""),
  "boutline.dismissSuggestion": (bouts, [node]) => bouts.dismiss(node),
  "boutline.readBoutsAgain": (bouts) => bouts.again(),
};

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
