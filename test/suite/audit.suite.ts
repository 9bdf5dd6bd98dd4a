import assert from "node:assert/strict";
import * as vscode from "vscode";
import {
  boutText,
  closeAll,
  findingsIn,
  head,
  isViewer,
  log,
  makeBout,
  openText,
  openTextOf,
  ruleOf,
  until,
} from "./bouts";
import { test as register } from "./run";

/** Opening editors takes its time on a busy machine, the first one above all. */
const test = (name: string, check: () => Promise<void>) => register(name, check, 120);

const confirm = "This is what happened";
const corrected = /^The officials corrected the score here/;

const touch = (second: number, side: string) =>
  `{ "kind": "phrase", "start": "0:00:0${second}.000", "halt": "0:00:0${second}.500", "lamps": { "${side}": "valid" }, "award": "${side}" }`;
const board = '{ "kind": "board", "at": "0:00:05.000", "score": [2, 0] }';

/** The finding of a rule, once it is shown. */
async function finding(document: vscode.TextDocument, rule: string): Promise<vscode.Diagnostic> {
  return until(`${rule} is found`, () => findingsIn(document).find((one) => ruleOf(one) === rule));
}

/** What the light bulb at a finding offers of ours. */
async function offeredAt(
  document: vscode.TextDocument,
  { range }: vscode.Diagnostic,
): Promise<vscode.CodeAction[]> {
  const actions = await vscode.commands.executeCommand<vscode.CodeAction[]>(
    "vscode.executeCodeActionProvider",
    document.uri,
    range,
    vscode.CodeActionKind.QuickFix.value,
  );
  return actions.filter(({ command }) => command?.command === "boutline.useRemedy");
}

async function take({ command }: vscode.CodeAction): Promise<void> {
  assert.ok(command);
  await vscode.commands.executeCommand(command.command, ...((command.arguments ?? []) as unknown[]));
}

async function undo(document: vscode.TextDocument): Promise<void> {
  await vscode.window.showTextDocument(document);
  await vscode.commands.executeCommand("undo");
}

test("The demo's scoreboard mistake is explained, with a link, and can be confirmed or corrected", async () => {
  const [demo] = await vscode.workspace.findFiles("demo.bout.json");
  assert.ok(demo);
  const document = await vscode.workspace.openTextDocument(demo);
  await vscode.commands.executeCommand("vscode.openWith", demo, "default");
  const text = document.getText();
  const found = await finding(document, "board-disagrees");
  assert.deepEqual(
    findingsIn(document)
      .filter(({ severity }) => severity <= vscode.DiagnosticSeverity.Warning)
      .map(ruleOf),
    ["board-disagrees"],
  );
  assert.equal(found.severity, vscode.DiagnosticSeverity.Warning);
  assert.match(document.getText(found.range), /^\{ "kind": "board", "at": "0:01:11\.160", "score": \[8, 8\]/);
  assert.match(found.message, /8:8/);
  assert.match(found.message, /8:9/);
  // A busy editor may answer before it has asked us.
  const offered = await until("remedies are offered", async () => {
    const all = await offeredAt(document, found);
    return all.length > 0 && all;
  });
  assert.equal(offered.length, 2);
  const [first, second] = offered;
  assert.ok(first && second);
  assert.equal(first.title, confirm);
  assert.match(second.title, corrected);
  assert.deepEqual(
    offered.map(({ isPreferred }) => isPreferred === true),
    [false, false],
  );

  await take(first);
  const confirmed = log(document).find(({ kind, at }) => kind === "board" && at === "0:01:11.160");
  assert.deepEqual(confirmed, {
    kind: "board",
    at: "0:01:11.160",
    score: [8, 8],
    clock: "2:57",
    confirmed: true,
  });
  const lines = text.split("\n");
  const changed = document.getText().split("\n");
  assert.equal(changed.length, lines.length);
  assert.equal(changed.filter((line, place) => line !== lines[place]).length, 1);
  await until("the finding is a note", () =>
    findingsIn(document).some(
      (one) => ruleOf(one) === "board-disagrees" && one.severity === vscode.DiagnosticSeverity.Information,
    ),
  );
  await undo(document);
  assert.equal(document.getText(), text);

  await take(second);
  const entry = log(document).find(({ kind }) => kind === "correction");
  assert.deepEqual(entry, { kind: "correction", at: "0:01:11.160", score: [8, 8] });
  assert.equal(document.getText().split("\n").length, lines.length + 1);
  await undo(document);
  assert.equal(document.getText(), text);
  await closeAll();
});

test("The link of a finding opens the page of its rule as a page", async () => {
  const document = await openText(boutText(touch(1, "left"), board));
  const { code } = await finding(document, "board-disagrees");
  assert.ok(typeof code === "object");
  const { target } = code;
  // Hovers and the peek at a problem follow no command.
  assert.notEqual(target.scheme, "command");
  await vscode.commands.executeCommand("vscode.open", target);
  const tab = await until("the page is in front", () => {
    const { activeTab } = vscode.window.tabGroups.activeTabGroup;
    return activeTab?.input instanceof vscode.TabInputCustom ? activeTab : undefined;
  });
  assert.match(tab.label, /board-disagrees\.md/);
  const page = await vscode.workspace.openTextDocument(target);
  assert.match(page.getText(), /^# .+/);
  await closeAll();
});

test("The links of findings lead to pages of rules and to no other file", async () => {
  for (const path of ["/../../README.md", "/no-such-rule.md", "/package.json"]) {
    const page = await vscode.workspace.openTextDocument(vscode.Uri.from({ scheme: "boutline-rule", path }));
    assert.equal(page.getText(), "There is no such rule.", path);
  }
});

test("A tagging slip is put right by the light bulb, other characters and line ends kept", async () => {
  const slip =
    '{ "kind": "phrase",  "start": "0:00:02.500", "halt": "0:00:01.000", "lamps": {}, "award": "none" }';
  const text = boutText(slip, touch(3, "left")).replaceAll("\n", "\r\n");
  const document = await openText(text);
  const found = await finding(document, "halt-before-start");
  const [swap, ...others] = await offeredAt(document, found);
  assert.ok(swap);
  assert.deepEqual(others, []);
  assert.equal(swap.isPreferred, true);
  await take(swap);
  assert.equal(
    document.getText(),
    text.replace('"0:00:02.500", "halt": "0:00:01.000"', '"0:00:01.000", "halt": "0:00:02.500"'),
  );
  await until("the finding is gone", () =>
    findingsIn(document).every((one) => ruleOf(one) !== "halt-before-start"),
  );
  await undo(document);
  assert.equal(document.getText(), text);
  await closeAll();
});

test("An entry out of order is put in its place, in one step", async () => {
  const text = boutText(touch(3, "left"), touch(1, "left"), touch(5, "left"));
  const document = await openText(text);
  const [move] = await offeredAt(document, await finding(document, "out-of-order"));
  assert.ok(move);
  await take(move);
  assert.equal(document.getText(), boutText(touch(1, "left"), touch(3, "left"), touch(5, "left")));
  await undo(document);
  assert.equal(document.getText(), text);
  await closeAll();
});

test("A remedy for a text that has changed since changes nothing", async () => {
  const document = await openText(boutText(touch(1, "left"), board));
  const [first] = await offeredAt(document, await finding(document, "board-disagrees"));
  assert.ok(first);
  const edit = new vscode.WorkspaceEdit();
  const at = document.getText().indexOf(board);
  edit.insert(document.uri, document.positionAt(at), '{ "kind": "note", "at": "0:00:04.000" },\n    ');
  await vscode.workspace.applyEdit(edit);
  const text = document.getText();
  await take(first);
  assert.equal(document.getText(), text);
  await closeAll();
});

test("Hovering over an entry tells the score before and after it, with nothing in it to follow", async () => {
  const hostile = head.replace("Vessa Tarn", "<b>[Tarn](command:workbench.action.quit)</b>");
  const text = `{\n${hostile}  "log": [\n    ${touch(1, "left")},\n    ${touch(3, "right")}\n  ]\n}\n`;
  const document = await openText(text);
  const place = document.positionAt(text.lastIndexOf('"kind"') + 2);
  const ours = await until("the hover is there", async () => {
    const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
      "vscode.executeHoverProvider",
      document.uri,
      place,
    );
    return hovers
      .flatMap(({ contents }) => contents as vscode.MarkdownString[])
      .find(({ value }) => value.includes("Phrase 2"));
  });
  assert.match(ours.value, /Score 1\\:0 before\\, 1\\:1 after/);
  assert.match(ours.value, /\\<b\\>\\\[Tarn\\\]\\\(command\\:workbench\\\.action\\\.quit\\\)/);
  assert.ok(ours.isTrusted !== true && ours.supportHtml !== true);
  await closeAll();
});

test("The outline tells the bout by period, before the outline of the JSON", async () => {
  const document = await openText(
    boutText(touch(1, "left"), '{ "kind": "period", "at": "0:00:02.000", "number": 2 }', touch(3, "right")),
  );
  const symbols = await until("the outline is there", async () => {
    const all = await vscode.commands.executeCommand<vscode.DocumentSymbol[]>(
      "vscode.executeDocumentSymbolProvider",
      document.uri,
    );
    return all.some(({ name }) => name.startsWith("Period")) ? all : undefined;
  });
  const periods = symbols.filter(({ name }) => name.startsWith("Period"));
  assert.deepEqual(
    periods.map(({ name, children }) => [name, ...children.map((child) => child.name)]),
    [
      ["Period 1, 0:0 to 1:0", "1. touch left, 1:0"],
      ["Period 2, 1:0 to 1:1", "Period 2 begins", "2. touch right, 1:1"],
    ],
  );
  await closeAll();
});

test("The log folds by period, and the JSON's own folds stay", async () => {
  const several = '{\n      "kind": "note",\n      "at": "0:00:00.000",\n      "text": "x"\n    }';
  const document = await openText(
    boutText(
      several,
      touch(1, "left"),
      '{ "kind": "period", "at": "0:00:02.000", "number": 2 }',
      touch(3, "right"),
      touch(4, "left"),
    ),
  );
  const line = (part: string, end = false) =>
    document.positionAt(document.getText().indexOf(part) + (end ? part.length : 0)).line;
  const wanted = [
    [line('"log"'), line("\n  ]")],
    [line(several), line(several, true) - 1],
    [line(several, true), line(touch(1, "left"))],
    [line('"number": 2'), line(touch(4, "left"))],
  ];
  const folds = await until("both folds are there", async () => {
    const all = await vscode.commands.executeCommand<vscode.FoldingRange[]>(
      "vscode.executeFoldingRangeProvider",
      document.uri,
    );
    return all.length >= wanted.length + 1 ? all.map(({ start, end }) => [start, end]) : undefined;
  });
  for (const fold of wanted)
    assert.ok(
      folds.some(([start, end]) => start === fold[0] && end === fold[1]),
      `${String(fold)} is not among ${folds.join("; ")}`,
    );
  await closeAll();
});

test("The running score stands behind each touch of the lines asked for, and only there", async () => {
  const document = await openText(boutText(touch(1, "left"), touch(3, "right"), board));
  const hints = async (range: vscode.Range) => {
    const all = await vscode.commands.executeCommand<vscode.InlayHint[]>(
      "vscode.executeInlayHintProvider",
      document.uri,
      range,
    );
    return all.map(({ label, position }) => ({
      label,
      before: document.lineAt(position).text.slice(0, position.character),
    }));
  };
  const end = document.lineAt(document.lineCount - 1).range.end;
  const all = await until("the scores are there", async () => {
    const found = await hints(new vscode.Range(new vscode.Position(0, 0), end));
    return found.length > 0 ? found : undefined;
  });
  assert.deepEqual(
    all.map(({ label }) => label),
    ["1:0", "1:1"],
  );
  for (const { before } of all) assert.match(before, /"award": "(left|right)"$/);
  const second = document.positionAt(document.getText().indexOf(touch(3, "right"))).line;
  assert.equal((await hints(document.lineAt(second).range)).length, 1);
  await closeAll();
});

test("Words that fit the bout are offered once, beside what the schema offers", async () => {
  const card = '{ "kind": "card", "at": "0:00:01.000", "to": "left", "card": "yellow", "for": "" }';
  const stop = '{ "kind": "stop", "at": "0:00:02.000", "for": "" }';
  const phrase = '{ "kind": "phrase", "start": "0:00:03.000", "actions": ["left attack", ""] }';
  const document = await openText(boutText(card, stop, phrase));
  const text = document.getText();
  const offered = async (entry: string, before: string) => {
    const place = document.positionAt(text.indexOf(entry) + entry.indexOf(`${before}""`) + before.length + 1);
    const list = await vscode.commands.executeCommand<vscode.CompletionList>(
      "vscode.executeCompletionItemProvider",
      document.uri,
      place,
    );
    return list.items.map(({ label }) => (typeof label === "string" ? label : label.label));
  };
  const offences = await until("offences are offered", async () => {
    const all = await offered(card, '"for": ');
    return all.includes('"early start"') ? all : undefined;
  });
  assert.ok(!offences.includes('"touch with the guard"'), "an offence of sabre alone");
  const reasons = await offered(stop, '"for": ');
  assert.deepEqual(
    reasons.filter((label) => label === '"re-centre"'),
    ['"re-centre"'],
  );
  const actions = await offered(phrase, '"left attack", ');
  assert.deepEqual(
    actions.filter((label) => label === '"right parry"'),
    ['"right parry"'],
  );
  await closeAll();
});

test("Findings come without the viewer, follow the newest text, and go when it is closed", async () => {
  const uri = await makeBout(boutText(touch(1, "left"), board));
  const document = await vscode.workspace.openTextDocument(uri);
  assert.ok(!vscode.window.tabGroups.all.some(({ tabs }) => tabs.some((tab) => isViewer(tab, uri))));
  await finding(document, "board-disagrees");
  await vscode.window.showTextDocument(document);
  const editor = await openTextOf(document);
  // Typed faster than anybody waits: what is shown in the end is about the last text.
  for (const left of [3, 4, 5, 6, 1]) {
    const at = document.positionAt(document.getText().indexOf('"score": [') + '"score": ['.length);
    await editor.edit((edit) => {
      edit.replace(new vscode.Range(at, at.translate(0, 1)), String(left));
    });
  }
  await until("nothing is found any more", () => findingsIn(document).length === 0);
  await new Promise((resolve) => setTimeout(resolve, 600));
  assert.deepEqual(findingsIn(document).map(ruleOf), []);
  await closeAll();
});

const edition = (appeals: string) => `{
  "boutlineEdition": 1,
  "id": "harbour-2026",
  "title": "Harbour league, 2026",
  "source": "invented for this test",
  "extends": "wheelchair-2026",
  "formats": { "elimination": { "appeals": { "value": ${appeals}, "source": "invented for this test" } } }
}
`;

test("A federation's edition beside the bout counts, and is read again when it changes", async () => {
  const text = boutText(
    touch(1, "left"),
    '{ "kind": "review", "at": "0:00:02.000", "by": "right", "result": "kept", "award": "left" }',
    touch(3, "right"),
  ).replace('"wheelchair-2026"', '"harbour-2026"');
  const document = await openText(text);
  await finding(document, "unknown-edition");
  const file = vscode.Uri.joinPath(document.uri, "..", "harbour-2026.edition.json");
  const left = async (count: string) =>
    until(`${count} left`, async () => {
      const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
        "vscode.executeHoverProvider",
        document.uri,
        document.positionAt(text.lastIndexOf('"kind"')),
      );
      return hovers
        .flatMap(({ contents }) => contents as vscode.MarkdownString[])
        .some(({ value }) => value.includes(`Kel Odrey \\(right\\)`) && value.includes(`${count} left`));
    });
  try {
    await vscode.workspace.fs.writeFile(file, Buffer.from(edition("4")));
    await until("the edition is known", () =>
      findingsIn(document).every((one) => ruleOf(one) !== "unknown-edition"),
    );
    await left("3 appeals");
    await vscode.workspace.fs.writeFile(file, Buffer.from(edition("2")));
    await left("1 appeal");

    // A mistake is marked in the edition's own file, though nobody opened it, and told in the bout.
    await vscode.workspace.fs.writeFile(
      file,
      Buffer.from(edition("2").replace("wheelchair-2026", "weelchair")),
    );
    const marks = await until("the mistake is marked", () => {
      const all = vscode.languages.getDiagnostics(file);
      return all.length > 0 ? all : undefined;
    });
    assert.deepEqual(
      marks.map(({ range, source }) => [range.start.line, source]),
      [[5, "Boutline"]],
    );
    await finding(document, "edition-file");
  } finally {
    await vscode.workspace.fs.delete(file);
  }
  await finding(document, "unknown-edition");
  await until("the marks are gone with the file", () => vscode.languages.getDiagnostics(file).length === 0);
  await closeAll();
});

test("In an open edition file, what VS Code itself marks is not marked again", async () => {
  const [folder] = vscode.workspace.workspaceFolders ?? [];
  assert.ok(folder);
  const file = vscode.Uri.joinPath(folder.uri, "quay-2026.edition.json");
  await vscode.workspace.fs.writeFile(file, Buffer.from(edition('"many"')));
  try {
    await vscode.window.showTextDocument(file);
    const marks = await until("VS Code has marked the mistake", () => {
      const all = vscode.languages.getDiagnostics(file);
      return all.some(({ source }) => source !== "Boutline") ? all : undefined;
    });
    await new Promise((resolve) => setTimeout(resolve, 500));
    assert.deepEqual(
      vscode.languages
        .getDiagnostics(file)
        .filter(({ source }) => source === "Boutline")
        .map(({ range }) => range.start.line)
        .filter((line) =>
          marks.some((other) => other.source !== "Boutline" && other.range.start.line === line),
        ),
      [],
    );
  } finally {
    await closeAll();
    await vscode.workspace.fs.delete(file);
  }
});
