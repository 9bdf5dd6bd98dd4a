import assert from "node:assert/strict";
import { randomBytes } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import * as vscode from "vscode";
import { BoutsTree, itemOf, type BoutNode } from "../../src/host/bouts-tree";
import { groupings, type Grouping } from "../../src/host/bouts-view";
import type { BoutRow } from "../../src/shelf";
import { closeAll, isViewer, until } from "./bouts";
import { test as register } from "./run";

const test = (name: string, check: () => Promise<void>) => register(name, check, 120);
const settle = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

/** A folder of its own in the one opened, and an event of its own. */
function place(): { readonly folder: string; readonly event: string } {
  const name = `shelf-${randomBytes(4).toString("hex")}`;
  const folder = path.join(vscode.workspace.workspaceFolders?.[0]?.uri.fsPath ?? "", name);
  mkdirSync(folder);
  return { folder, event: `Event ${name}` };
}

interface Given {
  readonly event: string;
  readonly left?: object;
  readonly right?: object;
  readonly about?: object;
  readonly recording?: string;
  readonly log?: readonly object[];
}

function boutText({ event, left, right, about, recording, log = [] }: Given): string {
  const bout = { event, weapon: "foil", format: "pool", rules: "wheelchair-2026", ...about };
  return `// Kept.
{
  "boutline": 1,
  "bout": ${JSON.stringify(bout)},
  "fencers": {
    "left":  ${JSON.stringify({ name: "Vessa Tarn", ...left })},
    "right": ${JSON.stringify({ name: "Kel Odrey", ...right })}
  },
  "recordings": [${recording === undefined ? "" : `{ "file": ${JSON.stringify(recording)} /* the camera */ }`}],
  "log": [
    ${log.map((entry) => JSON.stringify(entry)).join(",\n    ")}
  ]
}
`;
}

function write(folder: string, name: string, given: Given): string {
  const file = path.join(folder, `${name}.bout.json`);
  writeFileSync(file, boutText(given));
  return file;
}

const phrase = { kind: "phrase", start: "0:00:01.000", halt: "0:00:02.000" };

/** The view's rows as the extension makes them, drawn nowhere. */
function openTree(): { readonly tree: BoutsTree; readonly refreshed: () => number } {
  const extension = vscode.extensions.getExtension("boutline.boutline");
  assert.ok(extension);
  const kept = new Map<string, unknown>();
  let refreshed = 0;
  const tree = new BoutsTree({
    context: {
      extension,
      extensionUri: extension.extensionUri,
      storageUri: undefined,
      workspaceState: {
        keys: () => [...kept.keys()],
        get: (name: string, usual?: unknown) => kept.get(name) ?? usual,
        update: (name: string, value: unknown) => Promise.resolve(void kept.set(name, value)),
      } as vscode.Memento,
    },
    view: { onDidChangeVisibility: () => new vscode.Disposable(() => undefined) },
    refresh: () => refreshed++,
    listed: () => undefined,
  });
  return { tree, refreshed: () => refreshed };
}

async function withTree(work: (tree: BoutsTree, refreshed: () => number) => Promise<void>): Promise<void> {
  const { tree, refreshed } = openTree();
  try {
    await work(tree, refreshed);
  } finally {
    tree.dispose();
  }
}

async function groups(tree: BoutsTree): Promise<readonly string[]> {
  return (await tree.children(undefined)).flatMap((node) =>
    node.is === "group" ? [`${node.group.label}: ${node.group.bouts.length}`] : [],
  );
}

async function boutsUnder(tree: BoutsTree, label: string): Promise<readonly BoutNode[]> {
  const group = (await tree.children(undefined)).find(
    (node) => node.is === "group" && node.group.label === label,
  );
  return group === undefined ? [] : tree.children(group);
}

async function rowOf(tree: BoutsTree, file: string): Promise<BoutRow> {
  const row = (await tree.bouts()).find((bout) => bout.file === file);
  assert.ok(row, file);
  return row;
}

function opened(uri: vscode.Uri): vscode.TextDocument {
  const document = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
  assert.ok(document, "the document is open");
  return document;
}

/** Opens the viewer of a bout file and waits until the fingerprint of its recording is kept, as it is once its page is there.
 * Where it is kept is told by the demo, whose copy lies beside it. */
async function openSeen(uri: vscode.Uri, recording: string): Promise<void> {
  await vscode.commands.executeCommand("boutline.openDemo");
  const demo = await until("the demo is open", () => {
    const input = vscode.window.tabGroups.activeTabGroup.activeTab?.input;
    return input instanceof vscode.TabInputCustom && input.uri.path.endsWith("/demo.bout.json") && input.uri;
  });
  const kept = path.join(path.dirname(path.dirname(demo.fsPath)), "prints.json");
  await vscode.commands.executeCommand("boutline.openViewer", uri);
  await until("the viewer is in front", () =>
    isViewer(vscode.window.tabGroups.activeTabGroup.activeTab, uri),
  );
  await until(
    "its fingerprint is kept",
    () => existsSync(kept) && readFileSync(kept, "utf8").includes(JSON.stringify(recording)),
  );
}

/** Takes the first offer of each box that is shown, until the command has done its work. Boxes take no key at first. */
async function acceptUntil(done: Thenable<unknown>): Promise<void> {
  let over = false;
  void done.then(() => (over = true));
  await until(
    "the command has done its work",
    async () => {
      await settle(900);
      if (!over) await vscode.commands.executeCommand("workbench.action.acceptSelectedQuickOpenItem");
      return over;
    },
    60,
  );
}

test("The bouts are grouped in each way there is, and words leave those that have them", async () => {
  const { folder, event } = place();
  const tarn = { id: `tarn ${event}`, category: "A" };
  write(folder, "a", { event, left: tarn, about: { date: "2026-03-01" } });
  write(folder, "b", { event, right: { ...tarn, name: "Véssa TARN" }, about: { weapon: "sabre" } });
  await withTree(async (tree) => {
    tree.filter(event);
    const expected: Readonly<Record<Grouping, readonly string[]>> = {
      event: [`${event}: 2`],
      fencer: ["Kel Odrey: 1", `Vessa Tarn (tarn ${event}): 2`, "Vessa Tarn: 1"],
      weapon: ["foil: 1", "sabre: 1"],
      category: ["category A: 2"],
      date: ["2026-03: 1", "no date given: 1"],
    };
    for (const grouping of groupings) {
      await tree.group(grouping);
      assert.deepEqual([...(await groups(tree))].sort(), [...expected[grouping]].sort(), grouping);
    }
    tree.filter(`${event} vessa SABRE`);
    await tree.group("event");
    assert.deepEqual(await groups(tree), [`${event}: 1`]);
    tree.filter(`${event} nobody`);
    assert.deepEqual(await groups(tree), []);
  });
});

test("Badges count findings, phrases not called and missing recordings", async () => {
  const { folder, event } = place();
  const yellow = { kind: "card", to: "left", card: "yellow", for: "early start" };
  write(folder, "a", {
    event,
    recording: "gone.mp4",
    log: [
      phrase,
      { ...phrase, start: "0:00:03.000", halt: "0:00:04.000" },
      { ...yellow, at: "0:00:05.000" },
      { ...yellow, at: "0:00:06.000" },
    ],
  });
  write(folder, "b", { event });
  await withTree(async (tree) => {
    tree.filter(event);
    const items = (await boutsUnder(tree, event)).map(itemOf);
    const [a, b] = items.sort((one, other) => (String(one.id) < String(other.id) ? -1 : 1));
    assert.ok(a !== undefined && b !== undefined);
    assert.match(a.resourceUri?.query ?? "", /^[1-9]\.2\.1$/);
    assert.equal(b.resourceUri?.query, "0.0.0");
    assert.match(String(a.description), /2 not called · recording missing/);
    assert.match(a.accessibilityInformation?.label ?? "", /2 not called, recording missing/);
    assert.equal(a.contextValue, "bout missing");
    assert.equal(b.contextValue, "bout");
  });
});

test("A bout file renamed, changed, deleted or moved away with its folder outside VS Code is followed", async () => {
  const { folder, event } = place();
  const file = write(folder, "a", { event });
  await withTree(async (tree, refreshed) => {
    tree.filter(event);
    assert.equal((await boutsUnder(tree, event)).length, 1);
    const labels = async () =>
      (await boutsUnder(tree, event)).map((node) =>
        node.is === "bout" ? path.basename(node.bout.file) : "",
      );
    const before = refreshed();
    renameSync(file, path.join(folder, "renamed.bout.json"));
    await until("the new name is listed", async () => (await labels()).join() === "renamed.bout.json");
    assert.ok(refreshed() > before, "the view was told");
    writeFileSync(path.join(folder, "renamed.bout.json"), boutText({ event, left: { name: "Mavi Varsk" } }));
    await until("the new fencer is listed", async () =>
      (await boutsUnder(tree, event)).some(
        (node) => node.is === "bout" && node.bout.fencers.left.name === "Mavi Varsk",
      ),
    );
    write(folder, "b", { event });
    await until("the second bout is listed", async () => (await labels()).length === 2);
    const moved = `${folder}-moved`;
    renameSync(folder, moved);
    await until("both are listed where they are now", async () =>
      (await boutsUnder(tree, event)).every((node) => node.is === "bout" && node.bout.file.startsWith(moved)),
    );
    assert.equal((await labels()).length, 2);
    rmSync(moved, { recursive: true });
    await until("nothing is left", async () => (await labels()).length === 0);
  });
});

test("A recording that goes and comes back is seen at its bout", async () => {
  const { folder, event } = place();
  const recording = path.join(folder, "qf.mp4");
  writeFileSync(recording, "bytes");
  write(folder, "a", { event, recording: "qf.mp4" });
  await withTree(async (tree) => {
    tree.filter(event);
    const kinds = async () => (await boutsUnder(tree, event)).map((node) => itemOf(node).contextValue).join();
    assert.equal(await kinds(), "bout");
    renameSync(recording, path.join(folder, "other.mp4"));
    await until("it is missing", async () => (await kinds()) === "bout missing");
    renameSync(path.join(folder, "other.mp4"), recording);
    await until("it is there again", async () => (await kinds()) === "bout");
  });
});

test("A file that holds no bout is listed with its reason, and a suggestion can be dismissed", async () => {
  const { folder, event } = place();
  writeFileSync(path.join(folder, "broken.bout.json"), "{");
  write(folder, "a", { event });
  write(folder, "copy", { event });
  await withTree(async (tree) => {
    const remarks = async () => {
      const top = (await tree.children(undefined)).find(({ is }) => is === "remarks");
      return top === undefined ? [] : tree.children(top);
    };
    const all = await remarks();
    const items = all.map(itemOf);
    const broken = items.find(({ command }) =>
      String(command?.arguments?.[0]).includes(path.basename(folder)),
    );
    assert.match(String(broken?.description), /^line 1: /);
    const suggestion = all.find(
      (node) =>
        node.is === "remark" &&
        node.remark.suggestion?.bouts.some(({ file }) => file.startsWith(folder)) === true,
    );
    assert.ok(suggestion);
    assert.match(itemOf(suggestion).contextValue ?? "", /^suggestion one bout$/);
    assert.equal((await tree.children(suggestion)).length, 2);
    tree.dismiss(suggestion);
    assert.equal((await remarks()).length, all.length - 1);
  });
});

test("A recording that was moved and renamed is found by its fingerprint; the edit is one undo step and exact", async () => {
  const { folder, event } = place();
  writeFileSync(path.join(folder, "qf.mp4"), randomBytes(900_000));
  const file = write(folder, "a", { event, recording: "qf.mp4", log: [phrase] });
  write(folder, "other", { event, log: [phrase] });
  const uri = vscode.Uri.file(file);
  const before = readFileSync(file, "utf8");
  await openSeen(uri, path.join(folder, "qf.mp4"));
  mkdirSync(path.join(folder, "archive"));
  renameSync(path.join(folder, "qf.mp4"), path.join(folder, "archive", "cam 2.mp4"));
  writeFileSync(path.join(folder, "archive", "another.mp4"), randomBytes(900_000));
  await acceptUntil(vscode.commands.executeCommand("boutline.findRecording", uri));
  const after = before.replace('"qf.mp4"', '"archive/cam 2.mp4"');
  const document = opened(uri);
  assert.equal(document.getText(), after);
  assert.equal(document.isDirty, false);
  assert.equal(readFileSync(file, "utf8"), after);
  await until("the viewer is in front", () =>
    isViewer(vscode.window.tabGroups.activeTabGroup.activeTab, uri),
  );
  await vscode.commands.executeCommand("undo");
  await until("undo brings the old name back", () => document.getText() === before);
  await closeAll();
});

test("All bouts that name the moved recording are changed at once", async () => {
  const { folder, event } = place();
  const bytes = randomBytes(300_000);
  writeFileSync(path.join(folder, "day.mp4"), bytes);
  const files = ["a", "b"].map((name) => write(folder, name, { event, recording: "day.mp4", log: [phrase] }));
  const [first = "", second = ""] = files;
  const before = files.map((file) => readFileSync(file, "utf8"));
  await openSeen(vscode.Uri.file(first), path.join(folder, "day.mp4"));
  await closeAll();
  mkdirSync(path.join(folder, "x"));
  renameSync(path.join(folder, "day.mp4"), path.join(folder, "x", "renamed.mp4"));
  // The second box lists both bout files, ticked.
  await acceptUntil(vscode.commands.executeCommand("boutline.findRecording", vscode.Uri.file(second)));
  assert.deepEqual(
    files.map((file) => readFileSync(file, "utf8")),
    before.map((text) => text.replace('"day.mp4"', '"x/renamed.mp4"')),
  );
  await closeAll();
});

test("Two bouts selected are compared in a panel; one without a phrase is refused", async () => {
  const { folder, event } = place();
  const won = { ...phrase, award: "left", actions: ["left attack"] };
  const one = write(folder, "a", { event, log: [won] });
  const other = write(folder, "b", { event, left: { name: "Orrin Pellow" }, log: [won] });
  const empty = write(folder, "c", { event, left: { name: "Sabel Wend" } });
  await withTree(async (tree) => {
    const node = async (file: string): Promise<BoutNode> => ({
      is: "bout",
      bout: await rowOf(tree, file),
      under: "",
    });
    const panels = () =>
      vscode.window.tabGroups.all
        .flatMap(({ tabs }) => tabs)
        .filter(
          ({ input }) =>
            input instanceof vscode.TabInputWebview && input.viewType.includes("boutline.compared"),
        );
    const [first, second, third] = [await node(one), await node(other), await node(empty)];
    await vscode.commands.executeCommand("boutline.compareBouts", first, [first, third]);
    assert.equal(panels().length, 0);
    await vscode.commands.executeCommand("boutline.compareBouts", first, [first, second]);
    await until("the comparison is open", () => panels().length === 1);
    assert.match(panels()[0]?.label ?? "", /a\.bout\.json, b\.bout\.json/);
    await vscode.commands.executeCommand("boutline.compareBouts", first, [second, first]);
    await settle(500);
    assert.equal(panels().length, 1, "the same comparison comes to the front");
  });
  await closeAll();
});

test("A new bout takes the fencers from the shelf with their ids, lies beside its recording, and takes nobody's place", async () => {
  const { folder, event } = place();
  const [left, right] = ["l", "r"].map((side) => ({ id: `${side} ${event}`, name: `Aa ${side} ${event}` }));
  // The newest of all bouts, so that its fencers are offered first.
  write(folder, "earlier", { event, left: left ?? {}, right: right ?? {}, about: { date: "2099-01-01" } });
  writeFileSync(path.join(folder, "qf.mp4"), "bytes");
  writeFileSync(path.join(folder, "qf.bout.json"), "somebody's");
  await acceptUntil(
    vscode.commands.executeCommand("boutline.newBout", vscode.Uri.file(path.join(folder, "qf.mp4"))),
  );
  const file = path.join(folder, "qf-2.bout.json");
  const uri = vscode.Uri.file(file);
  await until("its viewer is in front", () =>
    isViewer(vscode.window.tabGroups.activeTabGroup.activeTab, uri),
  );
  const text = readFileSync(file, "utf8");
  const { bout, fencers, recordings } = JSON.parse(text.replace(/^\s*\/\/.*$/gm, "")) as {
    bout: Record<string, string>;
    fencers: { left: { id?: string }; right: { id?: string } };
    recordings: readonly { file: string }[];
  };
  assert.deepEqual([fencers.left.id, fencers.right.id].sort(), [`l ${event}`, `r ${event}`]);
  assert.deepEqual(recordings, [{ file: "qf.mp4" }]);
  assert.deepEqual([bout["weapon"], bout["format"], bout["rules"]], ["foil", "pool", "wheelchair-2026"]);
  assert.equal(readFileSync(path.join(folder, "qf.bout.json"), "utf8"), "somebody's");
  await closeAll();
});
