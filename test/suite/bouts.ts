// Bout files for the in-editor tests, in the opened folder, and what every test does with them.
import assert from "node:assert/strict";
import { randomBytes } from "node:crypto";
import * as vscode from "vscode";

export const viewType = "boutline.viewer";

export const head = `  "boutline": 1,
  "bout": { "weapon": "foil", "format": "elimination", "rules": "wheelchair-2026" },
  "fencers": { "left": { "name": "Vessa Tarn" }, "right": { "name": "Kel Odrey" } },
`;

export function boutText(...entries: string[]): string {
  const log = entries.map((entry) => `    ${entry}`).join(",\n");
  return `// A bout made for a test.\n{\n${head}  "log": [\n${log}\n  ]\n}\n`;
}

export const onePhrase = boutText('{ "kind": "phrase", "start": "0:00:00.000" }');

/** Writes a bout file of its own into the opened folder. */
export async function makeBout(text: string): Promise<vscode.Uri> {
  const [folder] = vscode.workspace.workspaceFolders ?? [];
  assert.ok(folder, "no folder is open");
  const uri = vscode.Uri.joinPath(folder.uri, `test-${randomBytes(4).toString("hex")}.bout.json`);
  await vscode.workspace.fs.writeFile(uri, Buffer.from(text));
  return uri;
}

/** Opens a bout file as a user does, and waits until its viewer is in front. */
export async function openBout(text: string): Promise<vscode.TextDocument> {
  const uri = await makeBout(text);
  await vscode.commands.executeCommand("vscode.open", uri);
  await until("the viewer is in front", () =>
    isViewer(vscode.window.tabGroups.activeTabGroup.activeTab, uri),
  );
  const document = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
  assert.ok(document, "the viewer has no document");
  return document;
}

export function isViewer(tab: vscode.Tab | undefined, uri: vscode.Uri): boolean {
  const input = tab?.input;
  return (
    input instanceof vscode.TabInputCustom &&
    input.viewType === viewType &&
    input.uri.toString() === uri.toString()
  );
}

export function textTabs(uri: vscode.Uri): vscode.Tab[] {
  return vscode.window.tabGroups.all
    .flatMap(({ tabs }) => tabs)
    .filter(({ input }) => input instanceof vscode.TabInputText && input.uri.toString() === uri.toString());
}

export async function openTextOf(document: vscode.TextDocument): Promise<vscode.TextEditor> {
  return until("the text is on screen", () =>
    vscode.window.visibleTextEditors.find((editor) => editor.document === document),
  );
}

/** Opens a text without its viewer, as somebody does who edits by hand. */
export async function openText(text: string): Promise<vscode.TextDocument> {
  const document = await vscode.workspace.openTextDocument(await makeBout(text));
  await vscode.commands.executeCommand("vscode.openWith", document.uri, "default");
  await openTextOf(document);
  return document;
}

/** What Boutline itself has marked in the text. */
export function findingsIn({ uri }: vscode.TextDocument): vscode.Diagnostic[] {
  return vscode.languages.getDiagnostics(uri).filter(({ source }) => source === "Boutline");
}

/** The rule a finding names. */
export function ruleOf({ code }: vscode.Diagnostic): string {
  return String(typeof code === "object" ? code.value : code);
}

/** Closes all editors, unsaved changes thrown away. */
export async function closeAll(): Promise<void> {
  for (const document of vscode.workspace.textDocuments) {
    if (!document.isDirty || document.isUntitled) continue;
    await vscode.window.showTextDocument(document);
    await vscode.commands.executeCommand("workbench.action.files.revert");
  }
  await vscode.commands.executeCommand("workbench.action.closeAllEditors");
}

/** Asks again and again until there is an answer; fails with what was waited for. */
export async function until<T>(
  what: string,
  ask: () => T | undefined | false | null | Promise<T | undefined | false | null>,
  seconds = 60,
): Promise<T> {
  const deadline = Date.now() + seconds * 1000;
  for (;;) {
    const answer = await ask();
    if (answer !== undefined && answer !== false && answer !== null) return answer;
    if (Date.now() > deadline) throw new Error(`Waited ${seconds} s in vain until ${what}.`);
    await new Promise((resolve) => setTimeout(resolve, 40));
  }
}

export function log(document: vscode.TextDocument): Record<string, unknown>[] {
  const plain = document.getText().replace(/^\s*\/\/.*$/gm, "");
  return (JSON.parse(plain) as { log: Record<string, unknown>[] }).log;
}
