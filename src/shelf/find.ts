// Which bout files are there under some folders? Each once, whatever the links; what can't be looked into is told, not
// passed over.

import { lstatSync, readdirSync, realpathSync, statSync, type Dirent } from "node:fs";
import path from "node:path";
import { setImmediate as breath } from "node:timers/promises";

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

/** What one folder holds, told as soon as it was looked into. */
export interface FolderFound {
  /** In no order. */
  readonly files: readonly BoutFile[];
  /** Whether there is a regular file of exactly this name in it; false where only a look at the file can tell. */
  readonly hasFile: (name: string) => boolean;
}

/** Looks through the folders and all folders in them; a bout file may be named as well, and is then taken whatever its
 * name. Folders called `node_modules` or with a dot in front are not looked into. A link to something under the folders
 * is passed over, since that is found itself; one that leads out of them is left out and told. */
export async function findBoutFiles(folders: readonly string[]): Promise<FoundFiles> {
  const files: BoutFile[] = [];
  const leftOut = await lookThrough(folders, (found) => {
    for (const file of found.files) files.push(file);
  });
  return { files: files.sort((one, other) => byText(one.file, other.file)), leftOut };
}

/** The same for one who wants each folder's files while others are still looked for. Answers what was left out. */
export async function lookThrough(
  folders: readonly string[],
  onFound: (found: FolderFound) => void,
): Promise<readonly LeftOut[]> {
  const search: Search = { taken: new Set(), leftOut: [], roots: [], seen: new Set(), onFound };
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
  return search.leftOut.sort((one, other) => byText(one.file, other.file));
}

interface Search {
  /** Paths of files. */
  readonly taken: Set<string>;
  readonly leftOut: LeftOut[];
  /** Real paths of what is looked through. */
  readonly roots: string[];
  /** Real paths of folders looked into. */
  readonly seen: Set<string>;
  readonly onFound: (found: FolderFound) => void;
}

async function lookAt(search: Search, root: string): Promise<void> {
  try {
    if (statSync(root).isDirectory()) await lookInto(search, root);
    else {
      const file = take(search, root);
      if (file !== undefined) search.onFound({ files: [file], hasFile: () => false });
    }
  } catch (error) {
    search.leftOut.push({ file: root, message: reasonOf(error) });
  }
}

/** Milliseconds of looking before others have their turn. Waiting for each folder would take longer than looking into it. */
const atATime = 10;

async function lookInto(search: Search, top: string): Promise<void> {
  const waiting = [top];
  let since = performance.now();
  for (let folder = waiting.pop(); folder !== undefined; folder = waiting.pop()) {
    if (search.seen.has(folder)) continue;
    search.seen.add(folder);
    if (performance.now() - since > atATime) {
      await breath();
      since = performance.now();
    }
    let inside: Dirent[];
    try {
      inside = readdirSync(folder, { withFileTypes: true });
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
    if (found.length === 0) continue;
    let names: Set<string> | undefined;
    const namesOfFiles = () => new Set(inside.filter((entry) => entry.isFile()).map(({ name }) => name));
    search.onFound({ files: found, hasFile: (name) => (names ??= namesOfFiles()).has(name) });
  }
}

/** Folders and links of these names are not looked into. */
export function isPassedOver(name: string): boolean {
  return name === "node_modules" || name.startsWith(".");
}

function take(search: Search, file: string): BoutFile | undefined {
  // Once, though a file may be named beside the folder it is in.
  if (search.taken.has(file)) return undefined;
  try {
    const about = lstatSync(file);
    if (about.isFile()) {
      search.taken.add(file);
      return { file, size: about.size, modified: about.mtimeMs };
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
export function byText(one: string, other: string): number {
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
