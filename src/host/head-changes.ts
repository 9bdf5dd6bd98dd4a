// Changes of what stands before the log in one or several bout files at a time, open or not, each by its smallest edit.

import * as vscode from "vscode";
import type { Bout } from "../bout/read";
import { failure } from "../bout/result";
import { nameOf } from "./bouts-view";
import type { HeadPlan, Writer } from "./writer";

export interface HeadChange {
  readonly boutFile: string;
  readonly plan: HeadPlan;
}

interface Done {
  readonly document: vscode.TextDocument;
  /** What undoes it. */
  readonly back: HeadPlan;
}

/** Makes the changes and tells what came of them; `what` says in words what the files name now. A file without unsaved
 * changes of the person's is saved, so that others see the change. Answers with the files changed. */
export async function changeHeads(
  changes: readonly HeadChange[],
  writer: Writer,
  what: string,
): Promise<readonly string[]> {
  const done: Done[] = [];
  const refused: string[] = [];
  let unsaved = 0;
  for (const { boutFile, plan } of changes) {
    const result = await change(boutFile, plan, writer);
    if (typeof result === "string") refused.push(`${nameOf(boutFile)}: ${result}`);
    else {
      done.push(result);
      if (result.document.isDirty) unsaved++;
    }
  }
  if (refused.length > 0) void vscode.window.showErrorMessage(`Not changed: ${refused.join(" ")}`);
  if (done.length > 0) void tell(done, writer, what, unsaved);
  return done.map(({ document }) => document.uri.fsPath);
}

async function tell(done: readonly Done[], writer: Writer, what: string, unsaved: number): Promise<void> {
  const [first] = done;
  if (first === undefined) return;
  const who =
    done.length === 1
      ? `${nameOf(first.document.uri.fsPath)} now names`
      : `${done.length} bout files now name`;
  const saving =
    unsaved === 0
      ? ""
      : ` ${unsaved === done.length ? "Not saved yet" : `${unsaved} not saved yet`}, because of changes that were there before.`;
  const takeBack = "Take It Back";
  const answer = await vscode.window.showInformationMessage(`${who} ${what}.${saving}`, takeBack);
  if (answer !== takeBack) return;
  const refused: string[] = [];
  for (const { document, back } of done) {
    const result = await change(document.uri.fsPath, back, writer);
    if (typeof result === "string") refused.push(`${nameOf(document.uri.fsPath)}: ${result}`);
  }
  if (refused.length > 0) void vscode.window.showErrorMessage(`Not taken back: ${refused.join(" ")}`);
}

/** A sentence where it could not be made. */
async function change(boutFile: string, plan: HeadPlan, writer: Writer): Promise<Done | string> {
  let document: vscode.TextDocument;
  try {
    document = await vscode.workspace.openTextDocument(vscode.Uri.file(boutFile));
  } catch {
    return "it can't be opened any more.";
  }
  const wasDirty = document.isDirty;
  let back: HeadPlan = () => failure("there is nothing to take back.");
  const written = await writer.writeHead(document, (bout) => {
    const planned = plan(bout);
    if (planned.ok) {
      const before = planned.value.map(({ path }) => ({ path, value: valueAt(bout, path) }));
      back = () => ({ ok: true, value: before });
    }
    return planned;
  });
  if (!written.ok) return written.problem;
  if (!wasDirty && !(await document.save())) return "it was changed but could not be saved; save it by hand.";
  return { document, back };
}

/** What a head names there now; undefined where the field is not written. */
function valueAt({ recordings, fencers }: Bout, path: readonly (string | number)[]): string | undefined {
  let value: unknown = { recordings, fencers };
  for (const key of path)
    value =
      typeof value === "object" && value !== null
        ? (value as Record<string | number, unknown>)[key]
        : undefined;
  return typeof value === "string" ? value : undefined;
}
