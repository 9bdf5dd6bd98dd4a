// What a file is, whatever its name and place: so that a moved recording still has its copy.

import { createHash } from "node:crypto";
import { open, type FileHandle } from "node:fs/promises";

/** Bytes. */
const block = 256 * 1024;

/** Of size and the first, middle and last blocks; throws as `open` does. 32 hexadecimal digits. */
export async function fingerprint(file: string): Promise<string> {
  const handle = await open(file);
  try {
    return await fingerprintOf(handle);
  } finally {
    await handle.close();
  }
}

/** The same of a file that is open, which stays open. */
export async function fingerprintOf(handle: FileHandle): Promise<string> {
  const { size } = await handle.stat();
  const hash = createHash("sha256").update(`${size}\n`);
  const bytes = Buffer.alloc(block);
  for (const from of [0, Math.floor((size - block) / 2), size - block]) {
    const { bytesRead } = await handle.read(bytes, 0, block, Math.max(0, from));
    hash.update(bytes.subarray(0, bytesRead));
  }
  return hash.digest("hex").slice(0, 32);
}
