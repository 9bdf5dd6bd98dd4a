// Where viewing copies and tables are kept unless told otherwise: the same for the editor and the command line.

import os from "node:os";
import path from "node:path";

/** Folder of this user for files that can be made again. */
function cacheFolder(): string {
  const home = os.homedir();
  if (process.platform === "win32")
    return path.join(process.env["LOCALAPPDATA"] ?? path.join(home, "AppData", "Local"), "boutline");
  if (process.platform === "darwin") return path.join(home, "Library", "Caches", "boutline");
  const set = process.env["XDG_CACHE_HOME"] ?? "";
  // A relative one is to be ignored (XDG Base Directory Specification).
  return path.join(path.isAbsolute(set) ? set : path.join(home, ".cache"), "boutline");
}

export function defaultCopiesFolder(): string {
  return path.join(cacheFolder(), "copies");
}

export function defaultTablesFolder(): string {
  return path.join(cacheFolder(), "frames");
}
