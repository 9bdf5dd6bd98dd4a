// The bout files of the open folders as a brief wants them: those of its fencers, what an editor has not saved yet
// preferred to what is on the disk.

import path from "node:path";
import * as vscode from "vscode";
import { sides } from "../bout/words";
import type { BriefSubject } from "../messages/brief";
import { Shelf, type BoutRow } from "../shelf";
import type { BriefFile } from "../shelf/brief-bouts";
import { isBoutFile } from "./bout-file";

/** Local folders that are open, full paths. */
export function openFolders(): readonly string[] {
  return (vscode.workspace.workspaceFolders ?? [])
    .filter(({ uri }) => uri.scheme === "file")
    .map(({ uri }) => uri.fsPath);
}

type Context = Pick<vscode.ExtensionContext, "extensionUri" | "extension" | "storageUri">;

/** The shelf of the open folders, with what an earlier run remembers of it. */
export function shelfOf(
  { extensionUri, extension, storageUri }: Context,
  onProgress?: (done: number, of: number) => void,
  signal?: AbortSignal,
): Shelf {
  const { version } = extension.packageJSON as { readonly version: string };
  return new Shelf({
    folders: openFolders(),
    worker: vscode.Uri.joinPath(extensionUri, "dist", "shelf-worker.js").fsPath,
    cache:
      storageUri === undefined ? undefined : { file: path.join(storageUri.fsPath, "shelf.json"), version },
    onProgress,
    signal,
  });
}

/** The files a brief on these is made of. A file with changes not saved is always among them: it may name them now. */
export function filesOf(bouts: readonly BoutRow[], { fencer, against }: BriefSubject): readonly BriefFile[] {
  const wanted = new Set([fencer, ...(against === undefined ? [] : [against])]);
  const unsaved = unsavedTexts();
  const named = bouts
    .filter(({ fencers }) => sides.some((side) => wanted.has(fencers[side].id?.trim() ?? "")))
    .map(({ file }) => file);
  const all = [...new Set([...named, ...unsaved.keys()])].sort();
  return all.map((file) => ({ path: file, file: shownName(file), text: unsaved.get(file) }));
}

/** The open folders in which these files lie, most of them first; those without any last. */
export function foldersByBouts(files: readonly BriefFile[]): readonly string[] {
  const count = (folder: string) => files.filter((file) => isUnder(folder, file.path)).length;
  return [...openFolders()].sort((one, other) => count(other) - count(one));
}

/** As a page names a file: from the folder it lies in. */
export function shownName(file: string): string {
  const folders = openFolders();
  const folder = folders.find((one) => isUnder(one, file));
  if (folder === undefined) return file;
  const inside = path.relative(folder, file).split(path.sep).join("/");
  return folders.length === 1 ? inside : `${path.basename(folder)}/${inside}`;
}

function unsavedTexts(): ReadonlyMap<string, string> {
  const folders = openFolders();
  return new Map(
    vscode.workspace.textDocuments
      .filter((document) => document.isDirty && !document.isClosed && document.uri.scheme === "file")
      .filter((document) => isBoutFile(document) && folders.some((one) => isUnder(one, document.uri.fsPath)))
      .map((document) => [document.uri.fsPath, document.getText()]),
  );
}

function isUnder(folder: string, file: string): boolean {
  const way = path.relative(folder, file);
  return way !== ".." && !way.startsWith(`..${path.sep}`) && !path.isAbsolute(way);
}
