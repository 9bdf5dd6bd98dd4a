import assert from "node:assert/strict";
import * as vscode from "vscode";
import { boutText, closeAll, findingsIn as ours, head, openBout, openText, ruleOf, until } from "./bouts";
import { test as register } from "./run";

/** Opening editors takes its time on a busy machine, the first one above all. */
const test = (name: string, check: () => Promise<void>) => register(name, check, 120);

const theirs = (document: vscode.TextDocument) =>
  vscode.languages.getDiagnostics(document.uri).filter(({ source }) => source !== "Boutline");

const played =
  '{ "kind": "phrase", "start": "0:00:01.000", "halt": "0:00:02.000", "lamps": {}, "award": "none" }';

test("VS Code itself marks what is against the schema, and we do not mark it again", async () => {
  const document = await openText(
    boutText(
      '{ "kind": "phrase", "start": "0:00:01.000", "halt": "0:00:02.000", "lamps": {}, "award": "middle" }',
      '{ "kind": "note", "at": "soon" }',
      '{ "kind": "note", "at": "0:00:03.000", "txet": "x" }',
    ),
  );
  const found = await until("three squiggles are there", () => {
    const all = theirs(document);
    return all.length >= 3 ? all : undefined;
  });
  const marked = found.map(({ range }) => document.getText(range)).sort();
  assert.deepEqual(marked, ['"middle"', '"soon"', '"txet"']);
  assert.ok(
    found.some(({ message }) => message === "A time is written h:mm:ss.mmm, for example 0:04:12.480."),
    found.map(({ message }) => message).join("; "),
  );
  await new Promise((resolve) => setTimeout(resolve, 500));
  assert.deepEqual(ours(document), []);
  await closeAll();
});

test("A key that stands twice is marked by VS Code and not again by us", async () => {
  const document = await openText(
    boutText('{ "kind": "note", "at": "0:00:01.000", "text": "a", "text": "b" }'),
  );
  await until("the squiggle is there", () => theirs(document).length > 0);
  await new Promise((resolve) => setTimeout(resolve, 500));
  assert.deepEqual(ours(document), []);
  await closeAll();
});

test("Comments and trailing commas are no mistake", async () => {
  const document = await openText(`// A comment.\n{\n${head}  "log": [ /* another */ ${played}, ],\n}\n`);
  await openText(boutText('{ "kind": "note", "at": "soon" }'));
  const other = vscode.window.activeTextEditor?.document;
  assert.ok(other);
  await until("the schema is in use", () => theirs(other).length > 0);
  assert.deepEqual(theirs(document), []);
  assert.deepEqual(ours(document), []);
  await closeAll();
});

test("Hovering over a field explains it", async () => {
  const document = await openText(boutText(played));
  const place = document.positionAt(document.getText().indexOf('"award"') + 3);
  const words = await until("the hover is there", async () => {
    const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
      "vscode.executeHoverProvider",
      document.uri,
      place,
    );
    const text = hovers
      .flatMap(({ contents }) => contents as vscode.MarkdownString[])
      .map(({ value }) => value)
      .join("\n");
    return text === "" ? undefined : text;
  });
  assert.match(words, /The touch as first announced, named by the fencer who scored/);
  await closeAll();
});

test("Values are completed from the schema", async () => {
  const document = await openText(boutText(played.replace('"none"', '""')));
  const place = document.positionAt(document.getText().indexOf('"award": ""') + '"award": "'.length);
  const offered = await until("values are offered", async () => {
    const list = await vscode.commands.executeCommand<vscode.CompletionList>(
      "vscode.executeCompletionItemProvider",
      document.uri,
      place,
    );
    const labels = list.items.map(({ label }) => (typeof label === "string" ? label : label.label));
    return labels.includes('"pending"') ? labels : undefined;
  });
  for (const word of ["left", "right", "both", "none", "pending"])
    assert.ok(offered.includes(`"${word}"`), word);
  await closeAll();
});

test("A board that disagrees with the score is marked at its entry, and no longer once it agrees", async () => {
  const board = '{ "kind": "board", "at": "0:00:03.000", "score": [1, 0] }';
  const document = await openText(boutText(played, board));
  const found = await until("the finding is there", () => {
    const all = ours(document);
    return all.length > 0 ? all : undefined;
  });
  assert.equal(found.length, 1);
  const [finding] = found;
  assert.ok(finding);
  assert.equal(document.getText(finding.range), board);
  assert.equal(ruleOf(finding), "board-disagrees");
  assert.equal(finding.severity, vscode.DiagnosticSeverity.Warning);
  const edit = new vscode.WorkspaceEdit();
  const at = document.getText().indexOf("[1, 0]");
  edit.replace(
    document.uri,
    new vscode.Range(document.positionAt(at), document.positionAt(at + 6)),
    "[0, 0]",
  );
  await vscode.workspace.applyEdit(edit);
  await until("the finding is gone", () => ours(document).length === 0);
  await closeAll();
});

test("Notes are information, and findings go with the document that is closed", async () => {
  const document = await openBout(boutText('{ "kind": "phrase", "start": "0:00:01.000" }'));
  const [note] = await until("the note is there", () => {
    const all = ours(document);
    return all.length > 0 ? all : undefined;
  });
  assert.ok(note);
  assert.equal(ruleOf(note), "not-halted");
  assert.equal(note.severity, vscode.DiagnosticSeverity.Information);
  await closeAll();
  await until("the note is gone", () => vscode.languages.getDiagnostics(document.uri).length === 0);
});
