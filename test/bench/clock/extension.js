// Appends what it saw, one JSON object a line, to the file named by BOUTLINE_CLOCK; times are Date.now() with fractions.
const { appendFileSync } = require("node:fs");
const vscode = require("vscode");

const now = () => performance.timeOrigin + performance.now();
const log = (entry) => appendFileSync(process.env.BOUTLINE_CLOCK, `${JSON.stringify(entry)}\n`);

async function oneEdit() {
  const document = vscode.workspace.textDocuments.find(({ fileName }) => fileName.endsWith(".bout.json"));
  if (document === undefined) return log({ what: "no document", at: now() });
  const last = document.lineAt(document.lineCount - 1).range.end;
  const edit = new vscode.WorkspaceEdit();
  edit.insert(document.uri, last, "\n");
  log({ what: "edit", at: now() });
  await vscode.workspace.applyEdit(edit);
}

exports.activate = (context) => {
  context.subscriptions.push(
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (contentChanges.length > 0 && document.fileName.endsWith(".bout.json"))
        log({ what: "changed", at: now() });
    }),
    // The palette that runs this keeps the editor busy for a while.
    vscode.commands.registerCommand("clock.later", () => setTimeout(oneEdit, 2000)),
    vscode.commands.registerCommand("clock.edit", oneEdit),
    vscode.commands.registerCommand("clock.memory", () => {
      global.gc?.();
      log({ what: "memory", at: now(), bytes: process.memoryUsage().rss });
    }),
    // The recording by the address any extension's page could use, to compare with.
    vscode.commands.registerCommand("clock.resource", () => {
      const file = vscode.Uri.file(process.env.BOUTLINE_CLOCK_RECORDING);
      const panel = vscode.window.createWebviewPanel("clock.resource", "Resource", vscode.ViewColumn.One, {
        localResourceRoots: [vscode.Uri.joinPath(file, "..")],
      });
      panel.webview.html = `<video preload="auto" src="${panel.webview.asWebviewUri(file)}"></video>`;
    }),
    vscode.commands.registerCommand("clock.activate", async () => {
      const other = vscode.extensions.getExtension("boutline.boutline");
      const active = other.isActive;
      const start = performance.now();
      await other.activate();
      log({ what: "activated", at: now(), active, milliseconds: performance.now() - start });
    }),
  );
};
