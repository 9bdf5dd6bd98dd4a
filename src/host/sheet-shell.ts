// The document of a panel that shows a page of figures, without content: the page comes as a message.

import { randomBytes } from "node:crypto";
import * as vscode from "vscode";

export function sheetOptions(extension: vscode.Uri): vscode.WebviewOptions {
  return {
    enableScripts: true,
    localResourceRoots: [vscode.Uri.joinPath(extension, "dist"), vscode.Uri.joinPath(extension, "media")],
  };
}

export function sheetShell(webview: vscode.Webview, extension: vscode.Uri, title: string): string {
  const address = (...path: readonly string[]) =>
    webview.asWebviewUri(vscode.Uri.joinPath(extension, ...path)).toString();
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
<main id="sheet"></main>
<p id="said" class="said" role="status"></p>
<script nonce="${nonce}" src="${address("dist", "sheet.js")}"></script>
</body>
</html>`;
}
