// The one way a bout file is changed: one change after another, each worked out on the newest text and applied as one
// edit of the open document, so that each is one undo step.

import { access, constants, stat } from "node:fs/promises";
import * as vscode from "vscode";
import { editBout, type Change, type FieldChange, type TextEdit } from "../bout/edit";
import { editHead } from "../bout/edit-head";
import type { Bout, Reading } from "../bout/read";
import { failure, success, type Result } from "../bout/result";
import type { Study } from "../rules";
import type { BoutDocuments } from "./documents";

/** What to change, given the newest text; a sentence for the user where nothing can be. Undefined: nothing to change. */
export type Plan = (study: Study, reading: Reading) => Result<Change | undefined, string>;

/** The same for fields before the log, named from the root: recordings, fencers. */
export type HeadPlan = (bout: Bout) => Result<readonly FieldChange[], string>;

export interface Written {
  /** Where the changed entry stands in the log now; undefined where nothing was changed. */
  readonly index: number | undefined;
}

/** Somebody else may edit the document while a change is under way; it is then worked out anew. */
const attempts = 5;

export class Writer {
  readonly #documents: BoutDocuments;
  readonly #last = new WeakMap<vscode.TextDocument, Promise<unknown>>();

  constructor(documents: BoutDocuments) {
    this.#documents = documents;
  }

  /** Runs after everything asked of this document before. `plan` may wait for what it needs, which keeps its turn. */
  write(document: vscode.TextDocument, plan: Plan | Promise<Plan>): Promise<Result<Written, string>> {
    return this.#inTurn(document, async () => {
      const work = await plan;
      return this.#change(document, (study, reading) => this.#entryEdit(document, work, study, reading));
    });
  }

  /** Changes what stands before the log. */
  writeHead(document: vscode.TextDocument, plan: HeadPlan): Promise<Result<Written, string>> {
    return this.#inTurn(document, () =>
      this.#change(document, ({ bout }, { scan }) => {
        const planned = plan(bout);
        if (!planned.ok) return planned;
        const edited = editHead(scan, planned.value);
        if (!edited.ok) return failure(edited.problem.message);
        this.#documents.expect(document, edited.value.scan);
        return success({ edits: edited.value.edits, index: undefined });
      }),
    );
  }

  #inTurn<T>(document: vscode.TextDocument, work: () => Promise<T>): Promise<T> {
    const turn = (this.#last.get(document) ?? Promise.resolve()).then(work);
    this.#last.set(
      document,
      turn.catch(() => undefined),
    );
    return turn;
  }

  async #change(
    document: vscode.TextDocument,
    edit: (study: Study, reading: Reading) => Result<Planned, string>,
  ): Promise<Result<Written, string>> {
    for (let attempt = 0; attempt < attempts; attempt++) {
      if (document.isClosed) return failure("The bout file was closed; nothing was changed.");
      const { reading, study } = this.#documents.read(document);
      const reason = await reasonAgainstEditing(document, reading);
      if (reason !== undefined) return failure(reason);
      if (study === undefined) return failure(headWrong);
      const version = document.version;
      const planned = edit(study, reading);
      if (!planned.ok) return planned;
      const { edits, index } = planned.value;
      if (edits.length === 0) return success({ index });
      if (document.version === version && (await applyTextEdits(document, edits))) return success({ index });
    }
    return failure("The bout file is being changed from elsewhere; nothing was changed. Try again.");
  }

  #entryEdit(
    document: vscode.TextDocument,
    plan: Plan,
    study: Study,
    reading: Reading,
  ): Result<Planned, string> {
    const planned = plan(study, reading);
    if (!planned.ok) return planned;
    if (planned.value === undefined) return success({ edits: [], index: undefined });
    const edited = editBout(reading.scan, planned.value);
    if (!edited.ok) return failure(edited.problem.message);
    const { edits, index, scan } = edited.value;
    if (edits.length === 0) return success({ edits, index });
    const lost = entryLost(planned.value, study.bout, index, this.#documents.expect(document, scan));
    return lost === undefined ? success({ edits, index }) : failure(lost);
  }
}

interface Planned {
  readonly edits: readonly TextEdit[];
  readonly index: number | undefined;
}

const headWrong =
  "The beginning of the bout file (bout, fencers) has mistakes that must be put right in its text first; nothing was changed.";

/** A change may make an entry unreadable, as a review without its award; the reason, where it does. */
function entryLost(
  change: Change,
  before: Bout,
  index: number,
  { bout, problems }: Reading,
): string | undefined {
  if (change.do !== "change" || !hasEntry(before, change.index) || hasEntry(bout, index)) return undefined;
  const problem = problems.find(({ entry, severity }) => entry === index && severity === "error");
  return `${problem?.message ?? "The entry could not be read after this change."} Nothing was changed.`;
}

function hasEntry(bout: Bout | undefined, index: number): boolean {
  return bout?.log.some((record) => record.index === index) === true;
}

/** Why this document is never written to; undefined where it may be. */
export async function reasonAgainstEditing(
  document: vscode.TextDocument,
  reading: Reading,
): Promise<string | undefined> {
  if (!reading.editable)
    return reading.scan.broken || reading.scan.log === undefined
      ? "The file has mistakes that must be put right in its text first; nothing was changed."
      : "This file was written by a later version of Boutline, so this one only shows it; nothing was changed.";
  return (await isWritable(document.uri)) ? undefined : "This file can't be written to; nothing was changed.";
}

/** What the disk said last, and until when (milliseconds of `Date.now()`) it is believed. */
const believed = new Map<string, { readonly writable: boolean; readonly until: number }>();
const believedFor = 3000;

export async function isWritable(uri: vscode.Uri): Promise<boolean> {
  const known = believed.get(uri.toString());
  if (known !== undefined && Date.now() < known.until) return known.writable;
  const writable = await askWhetherWritable(uri);
  believed.clear();
  believed.set(uri.toString(), { writable, until: Date.now() + believedFor });
  return writable;
}

async function askWhetherWritable(uri: vscode.Uri): Promise<boolean> {
  if (uri.scheme === "untitled") return true;
  if (vscode.workspace.fs.isWritableFileSystem(uri.scheme) === false) return false;
  if (uri.scheme === "file") return isWritableOnDisk(uri.fsPath);
  try {
    const { permissions } = await vscode.workspace.fs.stat(uri);
    return ((permissions ?? 0) & vscode.FilePermission.Readonly) === 0;
  } catch {
    // Not on disk any more: saving brings it back.
    return true;
  }
}

/** VS Code does not tell extensions of files on disk that they are marked as read-only. */
async function isWritableOnDisk(file: string): Promise<boolean> {
  try {
    const { mode } = await stat(file);
    // An administrator may write to what nobody is meant to write to.
    if ((mode & 0o222) === 0) return false;
  } catch {
    // Not on disk any more: saving brings it back.
    return true;
  }
  return access(file, constants.W_OK).then(
    () => true,
    () => false,
  );
}

/** Applies edits worked out on the document's text as it is now: false where it changed meanwhile. */
export async function applyTextEdits(
  document: vscode.TextDocument,
  edits: readonly TextEdit[],
): Promise<boolean> {
  const edit = new vscode.WorkspaceEdit();
  for (const { offset, length, text } of edits)
    edit.replace(
      document.uri,
      new vscode.Range(document.positionAt(offset), document.positionAt(offset + length)),
      text,
    );
  return vscode.workspace.applyEdit(edit);
}
