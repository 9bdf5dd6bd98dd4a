import assert from "node:assert/strict";
import { chmod } from "node:fs/promises";
import * as vscode from "vscode";
import {
  boutText,
  closeAll,
  isViewer,
  log,
  makeBout,
  onePhrase,
  openBout,
  openTextOf,
  textTabs,
  until,
  viewType,
} from "./bouts";
import { test as register } from "./run";

/** Opening editors takes its time on a busy machine, the first one above all. */
const test = (name: string, check: () => Promise<void>) => register(name, check, 120);

const run = (command: string, ...args: unknown[]) => vscode.commands.executeCommand(command, ...args);

test("Opening a bout file shows the viewer, with the text of the same document beside it", async () => {
  const document = await openBout(onePhrase);
  const editor = await openTextOf(document);
  const viewer = vscode.window.tabGroups.activeTabGroup;
  assert.ok(isViewer(viewer.activeTab, document.uri), "the cursor is no longer in the viewer");
  assert.equal(document.languageId, "jsonc");
  assert.ok((editor.viewColumn ?? 0) > viewer.viewColumn, "the text is not to the right of the viewer");
  await closeAll();
});

test("Opened again, a viewer does not open a second text", async () => {
  const document = await openBout(onePhrase);
  await openTextOf(document);
  await run("workbench.action.closeActiveEditor");
  await vscode.commands.executeCommand("vscode.openWith", document.uri, viewType, {
    viewColumn: vscode.ViewColumn.One,
  });
  await until("the viewer is back", () =>
    isViewer(vscode.window.tabGroups.activeTabGroup.activeTab, document.uri),
  );
  await new Promise((resolve) => setTimeout(resolve, 500));
  assert.equal(textTabs(document.uri).length, 1);
  await closeAll();
});

test("With the setting off no text is opened", async () => {
  const settings = vscode.workspace.getConfiguration("boutline");
  await settings.update("openText", false, vscode.ConfigurationTarget.Global);
  try {
    const document = await openBout(onePhrase);
    await new Promise((resolve) => setTimeout(resolve, 700));
    assert.equal(textTabs(document.uri).length, 0);
    await run("boutline.openText");
    await openTextOf(document);
  } finally {
    await settings.update("openText", undefined, vscode.ConfigurationTarget.Global);
    await closeAll();
  }
});

test("A tag is one edit of the text and one undo step", async () => {
  const document = await openBout(onePhrase);
  await run("boutline.attack.left", { key: "KeyF" });
  assert.deepEqual(log(document)[0], {
    kind: "phrase",
    start: "0:00:00.000",
    actions: ["left attack"],
  });
  await run("boutline.parry.right", { key: "KeyK" });
  assert.deepEqual(log(document)[0]?.["actions"], ["left attack", "right parry"]);
  assert.ok(document.isDirty);
  await run("undo");
  await until("the second tag is undone", () => {
    const actions = log(document)[0]?.["actions"];
    return JSON.stringify(actions) === '["left attack"]';
  });
  await run("undo");
  await until("both tags are undone", () => document.getText() === onePhrase);
  await run("redo");
  await until("the first tag is done again", () => document.getText().includes('"left attack"'));
  await closeAll();
});

test("Undo in the text takes a tag of the viewer back", async () => {
  const document = await openBout(onePhrase);
  const editor = await openTextOf(document);
  await run("boutline.touch.left", { key: "Digit1" });
  assert.equal(log(document)[0]?.["award"], "left");
  await vscode.window.showTextDocument(document, { viewColumn: editor.viewColumn ?? vscode.ViewColumn.Two });
  await run("undo");
  await until("the tag is undone", () => document.getText() === onePhrase);
  await closeAll();
});

test("A burst of keys is written in the order in which they were pressed", async () => {
  const document = await openBout(onePhrase);
  const wanted = ["attack.left", "parry.right", "riposte.right", "line.left", "renewal.left"];
  const pressed = Array.from({ length: 4 }, () => wanted).flat();
  await Promise.all(pressed.map((command) => run(`boutline.${command}`, { key: null })));
  const words = ["left attack", "right parry", "right riposte", "left point in line", "left remise"];
  await until("all tags are in the text", () => {
    const actions = log(document)[0]?.["actions"];
    return Array.isArray(actions) && actions.length === pressed.length;
  });
  assert.deepEqual(log(document)[0]?.["actions"], Array.from({ length: 4 }, () => words).flat());
  await closeAll();
});

test("Tags go upon what somebody types into the text at the same time", async () => {
  const document = await openBout(onePhrase);
  const typed = new vscode.WorkspaceEdit();
  typed.insert(document.uri, new vscode.Position(0, 0), "// typed meanwhile\n");
  await Promise.all([
    run("boutline.attack.left", { key: null }),
    vscode.workspace.applyEdit(typed),
    run("boutline.touch.left", { key: null }),
  ]);
  await until("both tags are in the text", () => log(document)[0]?.["award"] === "left");
  assert.ok(document.getText().startsWith("// typed meanwhile\n// A bout made for a test.\n"));
  assert.deepEqual(log(document)[0]?.["actions"], ["left attack"]);
  await closeAll();
});

test("Comments and hand formatting elsewhere stay as they were", async () => {
  const text = boutText(
    '/* as told by V. T. */ { "kind":"phrase","start":"0:00:00.000" }',
    '{ "kind": "note",\n      "at": "9:00:00.000", "text": "late" }',
  );
  const document = await openBout(text);
  await run("boutline.attack.left", { key: null });
  assert.equal(
    document.getText(),
    text.replace('"0:00:00.000" }', '"0:00:00.000", "actions": ["left attack"] }'),
  );
  await closeAll();
});

test("Files with Windows line ends are tagged at the right place", async () => {
  const text = onePhrase.replaceAll("\n", "\r\n");
  const document = await openBout(text);
  await run("boutline.attack.left", { key: null });
  assert.equal(
    document.getText(),
    text.replace('"0:00:00.000" }', '"0:00:00.000", "actions": ["left attack"] }'),
  );
  await closeAll();
});

test("A file that begins with a byte order mark is tagged at the right place and keeps its mark", async () => {
  const document = await openBout(`\uFEFF${onePhrase}`);
  await run("boutline.attack.left", { key: null });
  assert.deepEqual(log(document)[0]?.["actions"], ["left attack"]);
  await document.save();
  const bytes = await vscode.workspace.fs.readFile(document.uri);
  assert.deepEqual([...bytes.subarray(0, 3)], [0xef, 0xbb, 0xbf]);
  await closeAll();
});

for (const [what, text] of [
  ["is not JSON", onePhrase.replace("]\n}", "]\n")],
  ["has a later version", onePhrase.replace('"boutline": 1', '"boutline": 2')],
  ["has no log", onePhrase.replace('"log"', '"lug"')],
  ["lacks its fencers", onePhrase.replace('"fencers"', '"fencer"')],
] as const)
  test(`A file that ${what} is shown and never changed`, async () => {
    const document = await openBout(text);
    for (const command of ["fence", "attack.left", "touch.right", "note", "delete"])
      await run(`boutline.${command}`, { key: null });
    assert.equal(document.getText(), text);
    assert.equal(document.isDirty, false);
    await closeAll();
  });

test("A file that may not be written to is shown and never changed", async () => {
  const uri = await makeBout(onePhrase);
  await chmod(uri.fsPath, 0o444);
  await vscode.commands.executeCommand("vscode.open", uri);
  await until("the viewer is in front", () =>
    isViewer(vscode.window.tabGroups.activeTabGroup.activeTab, uri),
  );
  await run("boutline.attack.left", { key: null });
  const document = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
  assert.equal(document?.getText(), onePhrase);
  assert.equal(document.isDirty, false);
  await chmod(uri.fsPath, 0o644);
  await closeAll();
});

test("A phrase in the middle of being tagged outlives closing and opening its editors", async () => {
  const document = await openBout(boutText('{ "kind": "note", "at": "0:00:00.000" }'));
  await run("boutline.fence", { key: null });
  await run("boutline.attack.left", { key: null });
  await document.save();
  await closeAll();
  await vscode.commands.executeCommand("vscode.open", document.uri);
  const again = await until("the file is open again", () =>
    vscode.workspace.textDocuments.find((one) => one.uri.toString() === document.uri.toString()),
  );
  await until("the viewer is in front", () =>
    isViewer(vscode.window.tabGroups.activeTabGroup.activeTab, again.uri),
  );
  await run("boutline.parry.right", { key: null });
  assert.deepEqual(log(again)[1]?.["actions"], ["left attack", "right parry"]);
  await closeAll();
});

test("The command on a line of the text takes the viewer to that entry, and tags go there", async () => {
  const document = await openBout(
    boutText(
      '{ "kind": "phrase", "start": "0:00:00.000", "halt": "0:00:01.000", "award": "none" }',
      '{ "kind": "phrase", "start": "0:00:08.000" }',
    ),
  );
  await openTextOf(document);
  const editor = await vscode.window.showTextDocument(document, vscode.ViewColumn.Two);
  const line = document.positionAt(document.getText().indexOf("0:00:08.000")).line;
  editor.selection = new vscode.Selection(line, 4, line, 4);
  await run("boutline.showEntry");
  await run("workbench.action.focusFirstEditorGroup");
  await until("the viewer has the tag at the second phrase", async () => {
    await run("boutline.star", { key: null });
    const starred = log(document).map(({ star }) => star === true);
    if (starred[1] === true) return true;
    // The page had not gone there yet: take the star back.
    await run("undo");
    return false;
  });
  assert.equal(log(document)[0]?.["star"], undefined);
  await closeAll();
});

test("A comparison of two versions of a bout file is a comparison of texts", async () => {
  const [one, other] = [await makeBout(onePhrase), await makeBout(boutText())];
  await vscode.commands.executeCommand("vscode.diff", one, other);
  const input = await until(
    "the comparison is open",
    () => vscode.window.tabGroups.activeTabGroup.activeTab?.input,
  );
  assert.ok(input instanceof vscode.TabInputTextDiff, "it is not a comparison of texts");
  await closeAll();
});
