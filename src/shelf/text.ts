// A bout file's text from the disk, or a plain reason why there is none.

import { open } from "node:fs/promises";
import { failure, success, type Result } from "../bout/result";
import { largest, withoutWaiting } from "./opening";

export async function readText(file: string): Promise<Result<string, string>> {
  let bytes: Buffer;
  try {
    const handle = await open(file, withoutWaiting);
    try {
      const about = await handle.stat();
      if (about.isDirectory()) return failure("this is a folder; name a bout file in it");
      if (!about.isFile()) return failure("this is not a regular file");
      if (about.size > largest) return failure("this is too large for a bout file");
      bytes = await handle.readFile();
    } finally {
      await handle.close();
    }
  } catch (error) {
    return failure(reasonOf(error));
  }
  try {
    // The mark at the start stays in, as in the editor, so that places in the text agree.
    return success(new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch {
    return failure("this is not UTF-8 text");
  }
}

function reasonOf(error: unknown): string {
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  switch (code) {
    case "ENOENT":
      return "there is no such file";
    case "ENOTDIR":
      return "part of this path is not a folder";
    case "EISDIR":
      return "this is a folder; name a bout file in it";
    case "EACCES":
    case "EPERM":
      return "this file may not be read; check its permissions";
    case "ENAMETOOLONG":
      return "this name is too long";
    default:
      return `this file can't be read (${code === "" ? String(error) : code})`;
  }
}
