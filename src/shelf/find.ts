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
export interface FolderFound<Known extends BoutFile> {
  /** What is known of files whose size and time of change are as they are known; in no order. */
  readonly same: readonly Known[];
  /** The other files, in no order. */
  readonly files: readonly BoutFile[];
  /** Whether there is a regular file of exactly this name in it; false where only a look at the file can tell. */
  readonly hasFile: (name: string) => boolean;
}

/** Looks through the folders and all folders in them; a bout file may be named as well, and is then taken whatever its
 * name. Folders called `node_modules` or with a dot in front are not looked into. A link to something under the folders
 * is passed over, since that is found itself; one that leads out of them is left out and told. */
export async function findBoutFiles(folders: readonly string[]): Promise<FoundFiles> {
  const files: BoutFile[] = [];
  const leftOut = await lookThrough(folders, new Map(), (found) => {
    for (const file of found.files) files.push(file);
  });
  return { files: files.sort((one, other) => byText(one.file, other.file)), leftOut };
}

/** The same for one who knows many of the files and wants those of each folder while others are still looked for. `known`
 * has them by their folders, each folder's in the order of their paths. Answers what was left out. */
export async function lookThrough<Known extends BoutFile>(
  folders: readonly string[],
  known: ReadonlyMap<string, readonly Known[]>,
  onFound: (found: FolderFound<Known>) => void,
): Promise<readonly LeftOut[]> {
  const leftOut: LeftOut[] = [];
  const given = folders.map((folder) => path.resolve(folder));
  // All of them first, so that a link from one to another is known to lead to a folder that is looked through.
  const roots = given.flatMap((folder) => {
    try {
      const root = realpathSync(folder);
      return [{ root, isFolder: statSync(root).isDirectory() }];
    } catch (error) {
      leftOut.push({ file: folder, message: reasonOf(error) });
      return [];
    }
  });
  const named = new Set(roots.filter(({ isFolder }) => !isFolder).map(({ root }) => root));
  const search: Search<Known> = {
    roots: roots.map(({ root }) => root),
    named,
    leftOut,
    seen: new Set(),
    known,
    onFound,
  };
  for (const file of named) {
    const found = new Finds(search, path.dirname(file));
    found.look(path.basename(file));
    found.tell(() => false);
  }
  for (const { root, isFolder } of roots) if (isFolder) await lookInto(search, root);
  return leftOut.sort((one, other) => byText(one.file, other.file));
}

interface Where {
  /** Real paths of what is looked through. */
  readonly roots: readonly string[];
  readonly leftOut: LeftOut[];
}

interface Search<Known extends BoutFile> extends Where {
  /** The roots that are files: they are not taken again with the folder they are in. */
  readonly named: ReadonlySet<string>;
  /** Real paths of folders looked into. */
  readonly seen: Set<string>;
  readonly known: ReadonlyMap<string, readonly Known[]>;
  readonly onFound: (found: FolderFound<Known>) => void;
}

/** Milliseconds of looking before others have their turn. Waiting for each folder would take longer than looking into it. */
const atATime = 10;

async function lookInto<Known extends BoutFile>(search: Search<Known>, top: string): Promise<void> {
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
    const found = new Finds(search, folder);
    for (const entry of inside) {
      const { name } = entry;
      if (entry.isSymbolicLink()) passLink(search, found.before + name, name);
      else if (entry.isDirectory()) {
        if (!isPassedOver(name)) waiting.push(found.before + name);
      } else if (name.endsWith(boutFileEnding)) {
        if (search.named.size === 0 || !search.named.has(found.before + name)) found.look(name);
      }
    }
    let names: Set<string> | undefined;
    const namesOfFiles = () => new Set(inside.filter((entry) => entry.isFile()).map(({ name }) => name));
    found.tell((name) => (names ??= namesOfFiles()).has(name));
  }
}

/** Folders and links of these names are not looked into. */
export function isPassedOver(name: string): boolean {
  return name === "node_modules" || name.startsWith(".");
}

/** The bout files of one folder. For one that is known nothing is made anew, not even its path: with thousands of files,
 * fresh memory takes nearly as long as looking at them. */
class Finds<Known extends BoutFile> {
  /** The path of a file without its name. */
  readonly before: string;
  readonly #search: Search<Known>;
  readonly #known: readonly Known[];
  /** Where among those the next name is expected: most systems list names in their order. */
  #next = 0;
  #places: ReadonlyMap<string, number> | undefined;
  readonly #same: Known[] = [];
  readonly #files: BoutFile[] = [];

  constructor(search: Search<Known>, folder: string) {
    this.before = folder.endsWith(path.sep) ? folder : folder + path.sep;
    this.#search = search;
    this.#known = search.known.get(folder) ?? [];
  }

  look(name: string): void {
    const known = this.#knownAs(name);
    const file = known?.file ?? this.before + name;
    try {
      const about = lstatSync(file);
      const { size, mtimeMs: modified } = about;
      if (!about.isFile()) this.#leaveOut(file, "this is not a regular file");
      else if (known?.size === size && known.modified === modified) this.#same.push(known);
      else this.#files.push({ file, size, modified });
    } catch (error) {
      this.#leaveOut(file, reasonOf(error));
    }
  }

  tell(hasFile: FolderFound<Known>["hasFile"]): void {
    const [same, files] = [this.#same, this.#files];
    if (same.length + files.length > 0) this.#search.onFound({ same, files, hasFile });
  }

  #leaveOut(file: string, message: string): void {
    this.#search.leftOut.push({ file, message });
  }

  #knownAs(name: string): Known | undefined {
    const expected = this.#known[this.#next];
    if (expected?.file.length === this.before.length + name.length && expected.file.endsWith(name)) {
      this.#next++;
      return expected;
    }
    this.#places ??= new Map(this.#known.map(({ file }, place) => [file, place]));
    const place = this.#places.get(this.before + name);
    if (place === undefined) return undefined;
    this.#next = place + 1;
    return this.#known[place];
  }
}

/** Links are not followed: what they lead to under the folders is found itself, and so no link can lead in a circle. */
function passLink({ roots, leftOut }: Where, link: string, name: string): void {
  if (isPassedOver(name)) return;
  let target: string;
  let isFolder: boolean;
  try {
    target = realpathSync(link);
    isFolder = statSync(target).isDirectory();
  } catch (error) {
    if (name.endsWith(boutFileEnding))
      leftOut.push({ file: link, message: `this link leads nowhere: ${reasonOf(error)}` });
    return;
  }
  if (!isFolder && !name.endsWith(boutFileEnding)) return;
  if (roots.some((root) => isUnder(root, target))) return;
  leftOut.push({
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
