// Codes in the place of names. A code is a keyed hash (HMAC-SHA-256): without the key file nobody can find out a name by
// hashing a list of names, and with it the same fencer has the same code in every export.

import { createHmac, randomBytes } from "node:crypto";
import { mkdirSync, readFileSync, realpathSync, statSync, writeFileSync } from "node:fs";
import { homedir } from "node:os";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import type { PhraseTableRow } from "../figures";
import { editionNamed } from "../rules";
import type { NamedBout } from "./bouts";

/** Places on the body that may stay; other words for a target are the tagger's own and may name somebody. */
const knownTargets: ReadonlySet<string> = new Set(
  "flank,chest,arm,mask,back,shoulder,belly,hand,wrist,forearm,elbow,head,bib,thigh,leg,knee,foot,weapon arm".split(
    ",",
  ),
);

export interface Pseudonyms {
  readonly bout: (bout: NamedBout) => { readonly bout: string; readonly file: string };
  readonly row: (row: PhraseTableRow) => PhraseTableRow;
}

export function pseudonymsBy(key: Buffer): Pseudonyms {
  const codes = new Map<string, string>();
  const code = (kind: string, text: string): string => {
    // The same name composed of other characters, in other case or with spaces around it is the same name.
    const plain = `${kind}\u0000${text.normalize("NFC").trim().toLowerCase()}`;
    let found = codes.get(plain);
    if (found === undefined) {
      found = `${kind}-${createHmac("sha256", key).update(plain).digest("hex").slice(0, 16)}`;
      codes.set(plain, found);
    }
    return found;
  };
  const coded = <Cell>(kind: string, cell: Cell) => (typeof cell === "string" ? code(kind, cell) : cell);
  return {
    bout: (bout) => {
      const name = code("bout", bout.path);
      return { bout: name, file: `${name}.bout.json` };
    },
    row: (row) => ({
      ...row,
      event: coded("event", row.event),
      left_id: coded("fencer", row.left_id),
      right_id: coded("fencer", row.right_id),
      rules:
        typeof row.rules === "string" && editionNamed(row.rules) === undefined
          ? code("rules", row.rules)
          : row.rules,
      target: typeof row.target === "string" && knownTargets.has(row.target) ? row.target : null,
      tags: null,
    }),
  };
}

export function defaultKeyFile(): string {
  const base =
    process.platform === "win32"
      ? (process.env["APPDATA"] ?? path.join(homedir(), "AppData", "Roaming"))
      : (process.env["XDG_CONFIG_HOME"] ?? path.join(homedir(), ".config"));
  return path.join(base, "boutline", "pseudonyms.key");
}

const shape = /^boutline-key-1 ([0-9a-f]{64})\s*$/;

/** The key in a file, made with a new one where there is none, readable by its owner only. Refused inside the folder that
 * is given away. */
export function keyIn(file: string, exported: string): Result<Buffer, string> {
  const inside = path.relative(realOf(path.resolve(exported)), realOf(path.resolve(file)));
  if (inside === "" || !(inside === ".." || inside.startsWith(`..${path.sep}`) || path.isAbsolute(inside)))
    return failure(`${file} lies in the export folder; whoever gets the folder would get the key with it`);
  try {
    mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
    writeFileSync(file, `boutline-key-1 ${randomBytes(32).toString("hex")}\n`, { flag: "wx", mode: 0o600 });
  } catch (error) {
    if (!(error instanceof Error && "code" in error && error.code === "EEXIST"))
      return failure(`${file} can't be made (${error instanceof Error ? error.message : String(error)})`);
  }
  try {
    if (process.platform !== "win32" && (statSync(file).mode & 0o077) !== 0)
      return failure(`${file} can be read by others; make it your own with chmod 600`);
    const key = shape.exec(readFileSync(file, "utf8"))?.[1];
    return key === undefined
      ? failure(`${file} is no key file of Boutline; name another, or one that is not there yet`)
      : success(Buffer.from(key, "hex"));
  } catch (error) {
    return failure(`${file} can't be read (${error instanceof Error ? error.message : String(error)})`);
  }
}

/** With links followed as far as the path exists. */
function realOf(file: string): string {
  try {
    return realpathSync(file);
  } catch {
    const folder = path.dirname(file);
    return folder === file ? file : path.join(realOf(folder), path.basename(file));
  }
}
