import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdir, symlink, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import * as vscode from "vscode";
import { Recordings } from "../../src/host/recordings";
import { test } from "./run";

/** What finding a recording needs of the extension: what the user has allowed. */
function recordingsWith(allowed: readonly string[] = []): Recordings {
  const kept = new Map<string, unknown>([["boutline.allowedRecordings", allowed]]);
  return new Recordings({
    workspaceState: {
      get: (name: string, usual: unknown) => kept.get(name) ?? usual,
      update: (name: string, value: unknown) => Promise.resolve(kept.set(name, value)),
    },
    globalStorageUri: vscode.Uri.file(path.join(os.tmpdir(), "boutline-nothing")),
  } as unknown as vscode.ExtensionContext);
}

async function folderWithOddFiles() {
  const opened = vscode.workspace.workspaceFolders?.[0]?.uri.fsPath ?? "";
  const folder = path.join(opened, `odd-${Date.now()}`);
  // Beside the opened folder, and so gone with it.
  const outside = path.join(path.dirname(opened), `outside-${Date.now()}.mp4`);
  await mkdir(path.join(folder, "folder.mp4"), { recursive: true });
  await writeFile(path.join(folder, "real one.mp4"), "bytes");
  const another = path.join(path.dirname(opened), `another-${Date.now()}.mp4`);
  await writeFile(outside, "bytes");
  await writeFile(another, "bytes");
  await symlink(outside, path.join(folder, "leads-out.mp4"));
  await symlink("real one.mp4", path.join(folder, "leads-in.mp4"));
  await symlink("/dev/zero", path.join(folder, "device.mp4"));
  if (process.platform !== "win32") execFileSync("mkfifo", [path.join(folder, "pipe.mp4")]);
  return { folder, outside, another, bout: vscode.Uri.file(path.join(folder, "odd.bout.json")) };
}

test("A recording that is absolute, an address, a device, a pipe or a folder is never played", async () => {
  const { bout } = await folderWithOddFiles();
  const recordings = recordingsWith();
  for (const file of ["/etc/passwd", "file:///etc/passwd", "pipe.mp4", "device.mp4", "folder.mp4", "CON"])
    assert.equal((await recordings.find(bout, file)).is, "refused", file);
  assert.equal((await recordings.find(bout, "nothing.mp4")).is, "missing");
});

test("What a link leads to decides whether a recording may be played, and that very file is served", async () => {
  const { folder, outside, another, bout } = await folderWithOddFiles();
  const recordings = recordingsWith();
  const inside = await recordings.find(bout, "leads-in.mp4");
  assert.ok(inside.is === "there", inside.is);
  assert.equal(inside.real.fsPath, path.join(folder, "real one.mp4"));
  const climbing = path.posix.relative(folder, another);
  for (const [file, real] of [
    ["leads-out.mp4", outside],
    [climbing, another],
  ] as const) {
    const found = await recordings.find(bout, file);
    assert.equal(found.is, "outside", file);
    assert.ok(found.uri !== undefined);
    await recordings.allow(bout, found.uri);
    const allowed = await recordings.find(bout, file);
    assert.ok(allowed.is === "there", file);
    assert.equal(allowed.real.fsPath, real);
  }
  const elsewhere = vscode.Uri.file(path.join(folder, "other.bout.json"));
  assert.equal(
    (await recordings.find(elsewhere, "leads-out.mp4")).is,
    "outside",
    "allowed for one bout only",
  );
});
