import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import * as vscode from "vscode";
import { closeAll, head, isViewer, onePhrase, openBout, until } from "./bouts";
import { test as register } from "./run";

/** Opening editors takes its time on a busy machine, the first one above all. */
const test = (name: string, check: () => Promise<void>) => register(name, check, 120);

function shipped(...path: string[]): vscode.Uri {
  const extension = vscode.extensions.getExtension("boutline.boutline");
  assert.ok(extension);
  return vscode.Uri.joinPath(extension.extensionUri, ...path);
}

async function hashOf(uri: vscode.Uri): Promise<string> {
  return createHash("sha256")
    .update(await vscode.workspace.fs.readFile(uri))
    .digest("hex");
}

test("The demo opens as a copy; what ships is not touched", async () => {
  const before = await hashOf(shipped("media", "demo", "demo.bout.json"));
  await vscode.commands.executeCommand("boutline.openDemo");
  const tab = vscode.window.tabGroups.activeTabGroup.activeTab;
  const input = tab?.input;
  assert.ok(input instanceof vscode.TabInputCustom);
  assert.ok(isViewer(tab, input.uri));
  assert.match(input.uri.path, /\/demo\/demo\.bout\.json$/);
  assert.ok(!input.uri.path.startsWith(shipped().path), input.uri.path);
  const document = await until("the copy is open", () =>
    vscode.workspace.textDocuments.find((one) => one.uri.toString() === input.uri.toString()),
  );
  await vscode.commands.executeCommand("boutline.board", { key: null });
  await until("the copy has the new entry", () => document.isDirty);
  await document.save();
  assert.equal(await hashOf(shipped("media", "demo", "demo.bout.json")), before);
  const edited = document.getText();
  await closeAll();
  await vscode.commands.executeCommand("boutline.openDemo");
  const again = await until("the copy is open again", () =>
    vscode.workspace.textDocuments.find((one) => one.uri.toString() === input.uri.toString()),
  );
  assert.equal(again.getText(), edited);
  await closeAll();
});

test("The keys page opens as a preview", async () => {
  await vscode.commands.executeCommand("boutline.showKeys");
  await until("the preview is open", () => {
    const input = vscode.window.tabGroups.activeTabGroup.activeTab?.input;
    return input instanceof vscode.TabInputWebview && input.viewType.includes("markdown.preview");
  });
  await closeAll();
});

test("The study sheet opens beside the viewer", async () => {
  await openBout(onePhrase);
  await vscode.commands.executeCommand("boutline.showSheet");
  await until("the sheet is open", () =>
    vscode.window.tabGroups.all
      .flatMap(({ tabs }) => tabs)
      .some(
        ({ input }) => input instanceof vscode.TabInputWebview && input.viewType.includes("boutline.sheet"),
      ),
  );
  await closeAll();
});

function longBout(phrases: number): string {
  const time = (seconds: number) =>
    `${Math.floor(seconds / 3600)}:${String(Math.floor(seconds / 60) % 60).padStart(2, "0")}:${String(seconds % 60).padStart(2, "0")}.000`;
  const entries = Array.from(
    { length: phrases },
    (_, index) =>
      `    { "kind": "phrase", "start": "${time(index * 5)}", "halt": "${time(index * 5 + 2)}", "actions": ["left attack", "right parry", "right riposte"], "lamps": { "right": "valid" }, "award": "none" }`,
  );
  return `{\n${head}  "log": [\n${entries.join(",\n")}\n  ]\n}\n`;
}

test("A key changes one line of a bout of 2,000 phrases", async () => {
  const document = await openBout(longBout(2000));
  const before = document.getText().split("\n");
  await vscode.commands.executeCommand("boutline.star", { key: null });
  const after = document.getText().split("\n");
  assert.equal(after.length, before.length);
  assert.equal(after.filter((line, index) => line !== before[index]).length, 1);
  await closeAll();
});
