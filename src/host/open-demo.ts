// The demo bout, in a copy that is the user's to change; the files that ship are never opened.

import * as vscode from "vscode";

/** The demo's bout file in the user's copy, made where there is none. `afresh` sets an earlier copy aside. */
export async function demoCopy(context: vscode.ExtensionContext, afresh: boolean): Promise<vscode.Uri> {
  const { globalStorageUri: storage, extensionUri } = context;
  await vscode.workspace.fs.createDirectory(storage);
  const taken = (await vscode.workspace.fs.readDirectory(storage))
    .map(([name]) => /^demo(?:-(\d+))?$/.exec(name))
    .filter((match) => match !== null)
    .map(([, number]) => Number(number ?? 1));
  const newest = Math.max(0, ...taken);
  const number = afresh || newest === 0 ? newest + 1 : newest;
  const folder = vscode.Uri.joinPath(storage, number === 1 ? "demo" : `demo-${number}`);
  const bout = vscode.Uri.joinPath(folder, "demo.bout.json");
  if (!(await exists(bout))) {
    await vscode.workspace.fs.createDirectory(folder);
    const shipped = vscode.Uri.joinPath(extensionUri, "media", "demo");
    for (const [name, type] of await vscode.workspace.fs.readDirectory(shipped)) {
      const copy = vscode.Uri.joinPath(folder, name);
      if (type === vscode.FileType.File && !(await exists(copy)))
        await vscode.workspace.fs.copy(vscode.Uri.joinPath(shipped, name), copy);
    }
  }
  return bout;
}

async function exists(uri: vscode.Uri): Promise<boolean> {
  try {
    await vscode.workspace.fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}
