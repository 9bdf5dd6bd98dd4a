// "Query the phrases": one SELECT over the bout files of the workspace, its answer in a panel whose rows play their phrase.

import { randomBytes } from "node:crypto";
import * as vscode from "vscode";
import { fromAnswer } from "../messages/query";
import { queryPage } from "../pages/query-page";
import { namedBouts, type NamedBout } from "../shelf/bouts";
import { findBoutFiles } from "../shelf/find";
import { queryPhrases, usualLimits, type QueryAnswer } from "../shelf/query";
import type { SheetServices } from "./sheet";

type Context = Pick<vscode.ExtensionContext, "extensionUri" | "workspaceState">;

const lastQuery = "boutline.lastQuery";
const example =
  "select bout, entry, opener, actions, award from phrases where opener = 'left' and award = 'left'";
/** Rows a panel shows; the command line gives more. */
const mostRows = 1000;

/** Asks the text of the SQL file in front, or of what of it is selected; without one, what is typed. */
export async function askPhrases(context: Context, services: SheetServices): Promise<void> {
  const sql = sqlInFront() ?? (await typed(context));
  if (sql === undefined) return;
  const folders = (vscode.workspace.workspaceFolders ?? []).filter(({ uri }) => uri.scheme === "file");
  if (folders.length === 0) {
    void vscode.window.showInformationMessage("Open a folder with bout files first; they are what is asked.");
    return;
  }
  const { files, leftOut } = await findBoutFiles(folders.map(({ uri }) => uri.fsPath));
  const bouts = namedBouts(files.map(({ file }) => file));
  const worker = vscode.Uri.joinPath(context.extensionUri, "dist", "query-worker.js").fsPath;
  const answer = await vscode.window.withProgress(
    { location: vscode.ProgressLocation.Notification, title: "Asking the phrases", cancellable: true },
    (_, cancelled) => {
      const stop = new AbortController();
      cancelled.onCancellationRequested(() => stop.abort());
      return queryPhrases(worker, sql, bouts, { ...usualLimits, mostRows }, stop.signal);
    },
  );
  if (!answer.ok) {
    if (answer.problem === "stopped") return;
    const again = "Change the Query";
    const chosen = await vscode.window.showErrorMessage(`The query was refused: ${answer.problem}.`, again);
    if (chosen === again) await askPhrases(context, services);
    return;
  }
  const missing = [...leftOut, ...answer.value.leftOut].map(
    ({ file, message }) => `Left out: ${vscode.workspace.asRelativePath(file)}: ${message}`,
  );
  show(context, services, sql, bouts, answer.value, missing);
}

function sqlInFront(): string | undefined {
  const editor = vscode.window.activeTextEditor;
  if (editor === undefined) return undefined;
  const { document, selection } = editor;
  if (document.languageId !== "sql" && !document.fileName.toLowerCase().endsWith(".sql")) return undefined;
  return document.getText(selection.isEmpty ? undefined : selection);
}

async function typed({ workspaceState }: Context): Promise<string | undefined> {
  const sql = await vscode.window.showInputBox({
    title: "Query the phrases",
    prompt: "One SELECT over the table phrases; a text in a .sql file in front is asked instead",
    value: workspaceState.get(lastQuery, example),
    ignoreFocusOut: true,
  });
  if (sql !== undefined) await workspaceState.update(lastQuery, sql);
  return sql === undefined || sql.trim() === "" ? undefined : sql;
}

function show(
  context: Context,
  services: SheetServices,
  sql: string,
  bouts: readonly NamedBout[],
  { columns, rows, cut, phrases, leftOut }: QueryAnswer,
  missing: readonly string[],
): void {
  const media = vscode.Uri.joinPath(context.extensionUri, "media");
  const panel = vscode.window.createWebviewPanel(
    "boutline.query",
    "Answer to a query",
    vscode.ViewColumn.Active,
    { enableScripts: true, enableFindWidget: true, localResourceRoots: [media] },
  );
  const notes = [...(cut ? [`There are more rows; these are the first ${rows.length}.`] : []), ...missing];
  const body = queryPage({ sql, columns, rows, notes, phrases, bouts: bouts.length - leftOut.length });
  panel.webview.html = documentOf(panel.webview, vscode.Uri.joinPath(media, "query.css"), body);
  const [bout, entry] = [columns.indexOf("bout"), columns.indexOf("entry")];
  panel.webview.onDidReceiveMessage(async (raw: unknown) => {
    const message = fromAnswer.safeParse(raw);
    if (!message.success) return;
    if (message.data.type === "again") return askPhrases(context, services);
    const row = rows[message.data.row];
    const file = bouts.find((one) => one.bout === row?.[bout])?.path;
    const index = row?.[entry];
    if (file !== undefined && typeof index === "number") await play(services, file, index);
    else void vscode.window.showInformationMessage("This row names no phrase of a bout file.");
  });
}

async function play({ documents, play: playThere }: SheetServices, file: string, entry: number) {
  const document = await vscode.workspace.openTextDocument(vscode.Uri.file(file));
  const { study } = documents.read(document);
  const { stretchesOf } = await import("../pages");
  const stretches = study === undefined ? [] : stretchesOf(study.bout, [entry]);
  if (stretches.length === 0)
    void vscode.window.showInformationMessage("This phrase is not in the bout file any more; ask again.");
  else await playThere(document, "phrase of a query", stretches);
}

function documentOf(webview: vscode.Webview, style: vscode.Uri, body: string): string {
  const nonce = randomBytes(16).toString("base64");
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src ${webview.cspSource}; script-src 'nonce-${nonce}'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Answer to a query</title>
<link rel="stylesheet" href="${webview.asWebviewUri(style).toString()}">
</head>
<body>
<main>${body}</main>
<script nonce="${nonce}">
const host = acquireVsCodeApi();
document.addEventListener("click", ({ target }) => {
  const button = target.closest("button");
  if (button === null) return;
  host.postMessage(button.id === "again" ? { type: "again" } : { type: "play", row: Number(button.dataset.row) });
});
</script>
</body>
</html>`;
}
