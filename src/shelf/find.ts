// Which bout files are there under some folders? Each once, whatever the links; what can't be looked into is told, not
// passed over.

import { lstatSync, realpathSync, statSync, type Dirent } from "node:fs";
import { readdir } from "node:fs/promises";
import path from "node:path";

export const boutFileEnding = ".bout.json";

export interface BoutFile {
  /** Full path. */
  readonly file: string;
  /** Bytes. */
  readonly size: number;
  /** Milliseconds since 1970. */
  readonly modified: number;
}

/** A file or folder that was not read, and why, in words that follow its name. */
export interface LeftOut {
  readonly file: string;
  readonly message: string;
}

export interface FoundFiles {
  /** In the order of their paths. */
  readonly files: readonly BoutFile[];
  readonly leftOut: readonly LeftOut[];
}

/** Looks through the folders and all folders in them; a bout file may be named as well, and is then taken whatever its
 * name. Folders called `node_modules` or with a dot in front are not looked into. A link to something under the folders
 * is passed over, since that is found itself; one that leads out of them is left out and told. `onFound` is told of the
 * files of each folder as soon as that was looked into. */
export async function findBoutFiles(
  folders: readonly string[],
  onFound?: (files: readonly BoutFile[]) => void,
): Promise<FoundFiles> {
  const search: Search = { files: new Map(), leftOut: [], roots: [], seen: new Set(), onFound };
  const given = folders.map((folder) => path.resolve(folder));
  // All of them first, so that a link from one to another is known to lead to a folder that is looked through.
  const roots = given.flatMap((folder) => {
    try {
      return [realpathSync(folder)];
    } catch (error) {
      search.leftOut.push({ file: folder, message: reasonOf(error) });
      return [];
    }
  });
  search.roots.push(...roots);
  for (const root of roots) await lookAt(search, root);
  return {
    files: [...search.files.values()].sort((one, other) => order(one.file, other.file)),
    leftOut: search.leftOut.sort((one, other) => order(one.file, other.file)),
  };
}

interface Search {
  readonly files: Map<string, BoutFile>;
  readonly leftOut: LeftOut[];
  /** Real paths of what is looked through. */
  readonly roots: string[];
  /** Real paths of folders looked into. */
  readonly seen: Set<string>;
  readonly onFound: ((files: readonly BoutFile[]) => void) | undefined;
}

async function lookAt(search: Search, root: string): Promise<void> {
  try {
    if (statSync(root).isDirectory()) await lookInto(search, root);
    else {
      const file = take(search, root);
      if (file !== undefined) search.onFound?.([file]);
    }
  } catch (error) {
    search.leftOut.push({ file: root, message: reasonOf(error) });
  }
}

async function lookInto(search: Search, top: string): Promise<void> {
  const waiting = [top];
  for (let folder = waiting.pop(); folder !== undefined; folder = waiting.pop()) {
    if (search.seen.has(folder)) continue;
    search.seen.add(folder);
    let inside: Dirent[];
    try {
      inside = await readdir(folder, { withFileTypes: true });
    } catch (error) {
      search.leftOut.push({ file: folder, message: reasonOf(error) });
      continue;
    }
    const found: BoutFile[] = [];
    const before = folder.endsWith(path.sep) ? folder : folder + path.sep;
    for (const entry of inside) {
      const file = before + entry.name;
      if (entry.isSymbolicLink()) passLink(search, file, entry.name);
      else if (entry.isDirectory()) {
        if (!isPassedOver(entry.name)) waiting.push(file);
      } else if (entry.name.endsWith(boutFileEnding)) {
        const taken = take(search, file);
        if (taken !== undefined) found.push(taken);
      }
    }
    if (found.length > 0) search.onFound?.(found);
  }
}

/** Folders and links of these names are not looked into. */
export function isPassedOver(name: string): boolean {
  return name === "node_modules" || name.startsWith(".");
}

function take(search: Search, file: string): BoutFile | undefined {
  // Once, though a file may be named beside the folder it is in.
  if (search.files.has(file)) return undefined;
  try {
    const about = lstatSync(file);
    if (about.isFile()) {
      const found = { file, size: about.size, modified: about.mtimeMs };
      search.files.set(file, found);
      return found;
    }
    search.leftOut.push({ file, message: "this is not a regular file" });
  } catch (error) {
    search.leftOut.push({ file, message: reasonOf(error) });
  }
  return undefined;
}

/** Links are not followed: what they lead to under the folders is found itself, and so no link can lead in a circle. */
function passLink(search: Search, link: string, name: string): void {
  if (isPassedOver(name)) return;
  let target: string;
  let isFolder: boolean;
  try {
    target = realpathSync(link);
    isFolder = statSync(target).isDirectory();
  } catch (error) {
    if (name.endsWith(boutFileEnding))
      search.leftOut.push({ file: link, message: `this link leads nowhere: ${reasonOf(error)}` });
    return;
  }
  if (!isFolder && !name.endsWith(boutFileEnding)) return;
  if (search.roots.some((root) => isUnder(root, target))) return;
  search.leftOut.push({
    file: link,
    message: `this link leads out of the folders, to ${target}; name that to have it read as well`,
  });
}

function isUnder(folder: string, file: string): boolean {
  const way = path.relative(folder, file);
  return way !== ".." && !way.startsWith(`..${path.sep}`) && !path.isAbsolute(way);
}

/** The same on every machine, whatever its language. */
function order(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

export function reasonOf(error: unknown): string {
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  switch (code) {
    case "ENOENT":
      return "there is no such file or folder";
    case "EACCES":
    case "EPERM":
      return "this may not be read; check its permissions";
    case "ELOOP":
      return "this link leads in a circle";
    case "ENOTDIR":
      return "part of this path is not a folder";
    default:
      return `this can't be read (${code === "" ? String(error) : code})`;
  }
}
