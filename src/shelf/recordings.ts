// Which recordings lie under some folders? By the ending of their names; nothing is opened.

import { lstat, readdir } from "node:fs/promises";
import path from "node:path";
import { isPassedOver } from "./find";

/** Without the dot, in small letters. */
export const recordingEndings: readonly string[] = [
  ...["mp4", "m4v", "mov", "mkv", "webm", "avi", "mts", "m2ts", "ts", "mpg", "mpeg", "wmv", "mxf", "flv"],
  ...["ogv", "3gp"],
];

export interface RecordingFile {
  /** Full path. */
  readonly file: string;
  /** Bytes. */
  readonly size: number;
  /** Milliseconds since 1970. */
  readonly modified: number;
}

export interface Looking {
  /** Endings beside the usual ones, as a bout file may name anything. */
  readonly also?: readonly string[];
  readonly signal?: AbortSignal | undefined;
}

/** In the order of their paths; fewer where it was stopped. Links are not followed, and what may not be read is passed
 * over: these are offers, not figures. */
export async function findRecordings(
  folders: readonly string[],
  { also = [], signal }: Looking = {},
): Promise<readonly RecordingFile[]> {
  const endings = new Set([...recordingEndings, ...also]);
  const found = new Map<string, RecordingFile>();
  const seen = new Set<string>();
  const waiting = folders.map((folder) => path.resolve(folder));
  for (let folder = waiting.pop(); folder !== undefined; folder = waiting.pop()) {
    if (signal?.aborted === true) break;
    if (seen.has(folder)) continue;
    seen.add(folder);
    for (const entry of await readdir(folder, { withFileTypes: true }).catch(() => [])) {
      const file = path.join(folder, entry.name);
      if (entry.isDirectory() && !isPassedOver(entry.name)) waiting.push(file);
      if (!entry.isFile() || !endings.has(endingOf(entry.name))) continue;
      const about = await lstat(file).catch(() => undefined);
      if (about?.isFile() === true) found.set(file, { file, size: about.size, modified: about.mtimeMs });
    }
  }
  return [...found.values()].sort((one, other) => (one.file < other.file ? -1 : 1));
}

/** In small letters, without the dot; empty where there is none. */
export function endingOf(name: string): string {
  return path.extname(name).slice(1).toLowerCase();
}
