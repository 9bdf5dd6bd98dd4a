// Opens a recording to be served: a regular file and nothing else, never blocking on a pipe or waking a device.

import { constants, type Stats } from "node:fs";
import { type FileHandle, lstat, open } from "node:fs/promises";
import path from "node:path";
import { failure, type Result, success } from "../bout/result";

export interface OpenRecording {
  readonly handle: FileHandle;
  readonly size: number;
  /** Changes with the content, as far as size, time and place on the disk tell; an entity tag. */
  readonly tag: string;
}

/** Without O_NONBLOCK, opening a named pipe that took the file's place would wait for a writer; with O_NOFOLLOW, a link
 * that took its place leads nowhere. Windows lacks both. */
const readOnly =
  constants.O_RDONLY |
  ((constants.O_NONBLOCK as number | undefined) ?? 0) |
  ((constants.O_NOFOLLOW as number | undefined) ?? 0);

/** By the path of the file itself: a link is not followed. The caller closes the handle. The problem is a sentence for
 * the user. */
export async function openRecording(file: string): Promise<Result<OpenRecording, string>> {
  const name = path.basename(file);
  if (!path.isAbsolute(file)) return failure(`${name} has no full path.`);
  if (/^[\\/]{2}[.?][\\/]/.test(file)) return failure(`${name} is a device, not a recording.`);
  let handle: FileHandle | undefined;
  try {
    const before = await lstat(file);
    if (!before.isFile()) return failure(notAFile(name, before));
    handle = await open(file, readOnly);
    const now = await handle.stat();
    if (now.isFile()) {
      const tag = `"${now.size.toString(36)}-${now.mtimeMs.toString(36)}-${now.ino.toString(36)}"`;
      return success({ handle, size: now.size, tag });
    }
    await handle.close();
    return failure(notAFile(name, now));
  } catch (error) {
    await handle?.close();
    return failure(sentenceOf(error, name));
  }
}

/** Why a file can't be played at all, as a sentence; empty where nothing speaks against trying. */
export async function reasonAgainst(file: string): Promise<string> {
  const opened = await openRecording(file);
  if (!opened.ok) return opened.problem;
  const { handle, size } = opened.value;
  const name = path.basename(file);
  try {
    if (size === 0) return `${name} is empty.`;
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(64), 0, 64, 0);
    return isPlaylist(buffer.subarray(0, bytesRead))
      ? `${name} is a list of other recordings, not a recording. Name the recording itself.`
      : "";
  } catch (error) {
    return sentenceOf(error, name);
  } finally {
    await handle.close();
  }
}

/** Lists point at other files and addresses, which a browser or ffprobe would go and fetch. */
function isPlaylist(start: Buffer): boolean {
  const text = start.toString("latin1").replace(/^\xef\xbb\xbf/, "");
  return /^\s*(#EXTM3U|ffconcat|<\?xml|<MPD|<smil|\[playlist\])/i.test(text);
}

/** By ending; browsers look at the content all the same. */
export function contentType(file: string): string {
  return types[path.extname(file).toLowerCase()] ?? "application/octet-stream";
}

const types: Readonly<Record<string, string>> = {
  ".mp4": "video/mp4",
  ".m4v": "video/mp4",
  ".mov": "video/quicktime",
  ".webm": "video/webm",
  ".mkv": "video/x-matroska",
  ".ogv": "video/ogg",
  ".ts": "video/mp2t",
  ".mts": "video/mp2t",
  ".m2ts": "video/mp2t",
  ".mpg": "video/mpeg",
  ".mpeg": "video/mpeg",
  ".avi": "video/x-msvideo",
  ".wmv": "video/x-ms-wmv",
  ".flv": "video/x-flv",
  ".mxf": "application/mxf",
  ".3gp": "video/3gpp",
  ".m4a": "audio/mp4",
  ".mp3": "audio/mpeg",
  ".ogg": "audio/ogg",
  ".flac": "audio/flac",
  ".wav": "audio/wav",
};

function notAFile(name: string, found: Stats): string {
  const what = found.isDirectory() ? "a folder" : found.isSymbolicLink() ? "a link" : "a device or a pipe";
  return `${name} is ${what}, not a recording.`;
}

function sentenceOf(error: unknown, name: string): string {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  switch (code) {
    case "ENOENT":
    case "ENOTDIR":
      return `${name} is not there.`;
    case "EACCES":
    case "EPERM":
      return `${name} may not be read by this user.`;
    default:
      return `${name} can't be read: ${error instanceof Error ? error.message : String(error)}`;
  }
}
