import assert from "node:assert/strict";
import * as vscode from "vscode";
import { test } from "./run";

interface Manifest {
  readonly contributes?: { readonly commands?: readonly { readonly command: string }[] };
}

function boutline(): vscode.Extension<unknown> {
  const found = vscode.extensions.getExtension("boutline.boutline");
  assert.ok(found, "the extension boutline.boutline is not installed");
  return found;
}

test("The extension is there and activates", async () => {
  const extension = boutline();
  await extension.activate();
  assert.equal(extension.isActive, true);
});

test("Every command the manifest offers can be run", async () => {
  const extension = boutline();
  await extension.activate();
  const manifest = extension.packageJSON as Manifest;
  const offered = (manifest.contributes?.commands ?? []).map(({ command }) => command);
  assert.ok(offered.length > 0, "the manifest offers no command");
  const registered = new Set(await vscode.commands.getCommands(true));
  assert.deepEqual(
    offered.filter((command) => !registered.has(command)),
    [],
  );
});
