// The bouts a brief is made of: read once, and again only where a file has changed, so that a brief can follow its bouts.
// Runs in a thread of its own in the editor, and straight in the command.

import { createHash } from "node:crypto";
import { statSync } from "node:fs";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import {
  briefOf,
  shownPlan,
  type BoutRead,
  type Brief,
  type BriefEvidence,
  type ShownPlan,
  type TiedBout,
  type WrittenPlan,
} from "../figures/brief";
import { writtenEvidenceOf } from "../figures/written-evidence";
import { studyOfFile } from "./study";
import { readText } from "./text";

export interface BriefFile {
  /** Full path. */
  readonly path: string;
  /** As the brief names it. */
  readonly file: string;
  /** What an editor has not saved yet; left out: what is on the disk. */
  readonly text?: string | undefined;
}

export interface UnreadBout {
  readonly file: string;
  /** In words that follow the file's name. */
  readonly message: string;
}

/** Phrases behind a figure, as they are named on disk. */
export interface NamedEvidence {
  readonly path: string;
  readonly tied: TiedBout;
}

interface Known {
  /** Changes with the text. */
  readonly stamp: string;
  readonly read: BoutRead | UnreadBout;
  readonly hash: string;
}

export class BriefBouts {
  readonly #known = new Map<string, Known>();
  #files: readonly BriefFile[] = [];
  #folder = "";

  /** The bouts of the files, in their order; the others are told, and the rest goes on. */
  async read(
    files: readonly BriefFile[],
    onProgress?: (done: number, of: number) => void,
  ): Promise<{ readonly bouts: readonly BoutRead[]; readonly leftOut: readonly UnreadBout[] }> {
    this.#files = files;
    const bouts: BoutRead[] = [];
    const leftOut: UnreadBout[] = [];
    for (const [index, file] of files.entries()) {
      const { read } = await this.#read(file);
      if ("ledger" in read) bouts.push(read);
      else leftOut.push(read);
      onProgress?.(index + 1, files.length);
    }
    return { bouts, leftOut };
  }

  /** Makes the brief; the failure is a sentence for the reader. */
  async brief(
    files: readonly BriefFile[],
    fencer: string,
    against: string | undefined,
    onProgress?: (done: number, of: number) => void,
  ): Promise<Result<{ readonly brief: Brief; readonly leftOut: readonly UnreadBout[] }, string>> {
    const { bouts, leftOut } = await this.read(files, onProgress);
    const made = briefOf(bouts, fencer, against);
    return made.ok ? success({ brief: made.value, leftOut }) : failure(made.problem);
  }

  /** What is written in a plan that lies in this folder, looked up in the bouts last read. */
  plan(brief: Brief, plan: WrittenPlan | undefined, folder: string): ShownPlan {
    this.#folder = folder;
    const byName = new Map(this.#files.map((file) => [this.#nameInPlan(file), file]));
    return shownPlan(brief, plan, (bout) => {
      const known = this.#known.get(byName.get(bout)?.path ?? "");
      return known !== undefined && "ledger" in known.read ? known.read : undefined;
    });
  }

  /** Entries of the bouts last read, named so that they can be found again; `bout` from the plan's folder. */
  named(evidence: BriefEvidence): readonly NamedEvidence[] {
    return evidence.flatMap(({ file, entries }): NamedEvidence[] => {
      const found = this.#files.find((one) => one.file === file);
      const known = found === undefined ? undefined : this.#known.get(found.path);
      if (found === undefined || known === undefined || !("ledger" in known.read)) return [];
      const { ledger } = known.read;
      const written = entries.flatMap((entry) => {
        const named = writtenEvidenceOf(ledger, entry);
        if (named === undefined) return [];
        const { nth, ...rest } = named;
        return [nth === 0 ? rest : named];
      });
      if (written.length === 0) return [];
      return [
        { path: found.path, tied: { bout: this.#nameInPlan(found), hash: known.hash, entries: written } },
      ];
    });
  }

  /** Forgets what was read: the rules the bouts are counted by may be others now. */
  forget(): void {
    this.#known.clear();
  }

  #nameInPlan({ path: full }: BriefFile): string {
    return path.relative(this.#folder, full).split(path.sep).join("/");
  }

  async #read(file: BriefFile): Promise<Known> {
    const stamp = stampOf(file);
    const before = this.#known.get(file.path);
    if (before?.stamp === stamp && before.read.file === file.file) return before;
    const text = file.text === undefined ? await readText(file.path) : success(file.text);
    const study = text.ok ? await studyOfFile(file.path, text.value) : undefined;
    // Figures of half a file would be wrong without looking so.
    const read: Known["read"] =
      study?.study !== undefined && !study.reading.scan.broken
        ? { file: file.file, ledger: study.study.ledger }
        : {
            file: file.file,
            message: text.ok ? "can't be read as a bout file (see boutline check); left out" : text.problem,
          };
    const known = { stamp, read, hash: hashOf(text.ok ? text.value : "") };
    this.#known.set(file.path, known);
    return known;
  }
}

function stampOf({ path: full, text }: BriefFile): string {
  if (text !== undefined) return `text ${hashOf(text)}`;
  const about = statSync(full, { throwIfNoEntry: false });
  return `disk ${about?.size ?? -1} ${about?.mtimeMs ?? 0}`;
}

function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}
