// Cutting the picked phrases: shows first what would be cut, then asks where to, cuts with progress, and says where it
// lies. Cancelled or failed, it leaves nothing behind.

import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import path from "node:path";
import * as vscode from "vscode";
import { pickedPhrases, pickSchema } from "../figures";
import type { ToHost } from "../messages/contract";
import type { MakeOptions } from "../video/index";
import type { ClipsProgress } from "../video/clips";
import { nothingToCut, plannedClips, type Planned } from "./clip-preview";
import type { BoutDocuments } from "./documents";
import { isEmpty, type Picks } from "./picks";
import type { Recordings } from "./recordings";
import { timeLeft } from "./time-left";
import type { View } from "./view";

export type ClipsWanted = Pick<Extract<ToHost, { type: "clips" }>, "do" | "cutting">;

export interface ClipsServices {
  readonly documents: BoutDocuments;
  readonly recordings: Recordings;
  readonly picks: Picks;
}

/** Why an untrusted workspace cuts nothing. */
const untrusted =
  "Clips are cut by ffmpeg, and in a workspace that is not trusted Boutline starts no programs. Trust the workspace first.";

/** Sizes of a reel that can be chosen, in megabytes (common practice, no source). */
const reelSizes = [16, 25, 64, 100] as const;

const reelInWords =
  "One file for a message: the phrases one after another in this order, at most 540 lines high and 30 frames a second. Its size is asked next.";

/** Shows what would be cut of the picked phrases, or cuts it. */
export async function clips(
  { globalStorageUri }: Pick<vscode.ExtensionContext, "globalStorageUri">,
  view: View,
  { do: what, cutting }: ClipsWanted,
  services: ClipsServices,
): Promise<void> {
  const making = {
    cacheDir: path.join(globalStorageUri.fsPath, "frames"),
    ffmpegPath: programPath("ffmpegPath"),
    ffprobePath: programPath("ffprobePath"),
  };
  const planned = await plan(view, cutting, making, services);
  const ofReel = what === "preview reel" || what === "reel";
  const { notes, possible } = planned.preview;
  const told = ofReel && possible ? [reelInWords, ...notes] : notes;
  view.send({ ...planned.preview, notes: told, reel: ofReel });
  if (what === "preview" || what === "preview reel" || !possible) return;
  if (what === "cut") await cut(view, planned, making);
  else await reel(view, planned, making);
}

interface Found extends Planned {
  /** The recording the clips are cut out of, as `changedSince` asks for it. */
  readonly bout?: { readonly name: string; readonly source: string };
}

async function plan(
  view: View,
  cutting: ClipsWanted["cutting"],
  making: MakeOptions,
  { documents, recordings, picks }: ClipsServices,
): Promise<Found> {
  const none = (...notes: readonly string[]): Found => ({ plan: [], preview: nothingToCut(...notes) });
  if (!vscode.workspace.isTrusted) return none(untrusted);
  const { document } = view;
  const { study } = documents.read(document);
  const pick = pickSchema.safeParse(picks.picked(document, false).pick);
  if (study === undefined) return none("The bout file can't be read; its text says why.");
  if (!pick.success || isEmpty(pick.data)) return none("No phrase is picked.");
  const { entries, lost } = pickedPhrases(study.ledger, pick.data);
  if (entries.length === 0) return none("No phrase of this bout fits the pick.");
  const there = await firstThere(document, study.bout.recordings, recordings);
  if (!there.ok) return none(...there.problems);
  const { frameTable } = await import("../video/index");
  const frames = await frameTable(there.file, making);
  if (!frames.ok) return none(frames.problem.message);
  const { phraseClips, signsOfChange } = await import("../video/clips");
  const bout = {
    name: path.posix.basename(document.uri.path),
    hash: createHash("sha256").update(document.getText()).digest("hex"),
    ledger: study.ledger,
    entries,
    source: there.file,
    length: frames.value.times.at(-1) ?? 0,
  };
  const folder = folderOf(document);
  const { doubts, changed } = await signsOfChange(bout, there.place, frames.value.times, [folder]);
  const notes = [
    ...there.problems,
    ...(changed === undefined ? [] : [`${changed}.`]),
    ...doubts,
    ...(lost.length === 0
      ? []
      : [`${lost.length} picked by hand ${lost.length === 1 ? "is" : "are"} lost and not cut.`]),
    "Faces and voices are personal data: have the consent of the people shown before you pass clips on.",
  ];
  return { ...plannedClips(bout, cutting, there, notes, phraseClips), bout };
}

function folderOf({ uri }: vscode.TextDocument): string {
  return path.dirname(uri.fsPath);
}

type There =
  | {
      readonly ok: true;
      readonly file: string;
      readonly place: number;
      readonly offset: number;
      readonly problems: readonly string[];
    }
  | { readonly ok: false; readonly problems: readonly string[] };

/** The first of the bout's recordings that can be read here. */
async function firstThere(
  { uri }: vscode.TextDocument,
  named: readonly { readonly file: string; readonly offset?: number | undefined }[],
  recordings: Recordings,
): Promise<There> {
  const problems: string[] = [];
  for (const [place, { file, offset = 0 }] of named.entries()) {
    const found = await recordings.find(uri, file);
    if (found.is === "there" && found.real.scheme === "file")
      return { ok: true, file: found.real.fsPath, place, offset: place === 0 ? 0 : offset, problems };
    problems.push(found.is === "there" ? `${file} is not on a disk of this machine.` : found.problem);
  }
  return { ok: false, problems: problems.length === 0 ? ["The bout file names no recording."] : problems };
}

async function cut(view: View, found: Found, making: MakeOptions): Promise<void> {
  const [chosen] =
    (await vscode.window.showOpenDialog({
      title: "Where do the clips go?",
      openLabel: "Cut Here",
      canSelectFiles: false,
      canSelectFolders: true,
      canSelectMany: false,
      defaultUri: vscode.Uri.joinPath(view.document.uri, ".."),
    })) ?? [];
  if (chosen === undefined) return;
  const { plan } = found;
  const folder = chosen.fsPath;
  if (!(await mayCutChanged(view, found, folder))) return;
  const { cutClips, manifestName } = await import("../video/clips");
  const files = [
    ...plan.flatMap(({ name, captions }) => [
      `${name}.mp4`,
      ...(captions === undefined ? [] : [`${name}.vtt`]),
    ]),
    manifestName,
  ];
  const there = files.filter((file) => existsSync(path.join(folder, file)));
  const force = there.length > 0;
  if (force && !(await mayReplace(there))) return;
  const made = await withProgress(`Cutting ${countOf(plan.length)}`, (signal, progress) =>
    cutClips(plan, { ...making, folder, force, signal, progress }),
  );
  if (made === undefined) return;
  if (!made.ok) void vscode.window.showErrorMessage(made.problem.message);
  else await offerToOpen(`${countOf(made.value.made.length)} cut, in ${path.basename(folder)}.`, chosen);
}

async function reel(view: View, found: Found, making: MakeOptions): Promise<void> {
  const size = await vscode.window.showQuickPick(
    reelSizes.map((megabytes) => ({ label: `at most ${megabytes} MB`, megabytes })),
    { title: "How large may the reel be?", placeHolder: "What the message or post may carry" },
  );
  if (size === undefined) return;
  const name = path.posix.basename(view.document.uri.path).replace(/\.bout\.json$/, "");
  const target = await vscode.window.showSaveDialog({
    title: "Where does the reel go?",
    saveLabel: "Make the Reel",
    filters: { Video: ["mp4"] },
    defaultUri: vscode.Uri.joinPath(view.document.uri, "..", `${name} reel.mp4`),
  });
  if (target === undefined) return;
  const { plan } = found;
  const file = target.fsPath.endsWith(".mp4") ? target.fsPath : `${target.fsPath}.mp4`;
  // The dialog has asked about the file it was given, and not about one with an ending added.
  const force = existsSync(file);
  if (force && file !== target.fsPath && !(await mayReplace([path.basename(file)]))) return;
  if (!(await mayCutChanged(view, found, path.dirname(file)))) return;
  const { cutReel } = await import("../video/clips");
  const made = await withProgress("Making the reel", (signal, progress) =>
    cutReel(plan, file, size.megabytes, { ...making, force, signal, progress }),
  );
  if (made === undefined) return;
  if (!made.ok) void vscode.window.showErrorMessage(made.problem.message);
  else {
    const megabytes = (made.value.bytes / 1e6).toFixed(1);
    const said = `${path.basename(file)}: ${countOf(plan.length)}, ${made.value.seconds.toFixed(0)} seconds, ${megabytes} MB.`;
    await offerToOpen(said, vscode.Uri.file(file));
  }
}

/** Asks where clips beside the bout or in the folder chosen were cut out of another recording of that name. */
async function mayCutChanged(view: View, { bout }: Found, folder: string): Promise<boolean> {
  if (bout === undefined) return false;
  const { changedSince } = await import("../video/clips");
  const changed = await changedSince(bout, [folder, folderOf(view.document)]);
  if (changed === undefined) return true;
  const answer = "Cut All the Same";
  const detail = "The phrases may lie elsewhere in it than where they were tagged.";
  const options = { modal: true, detail };
  return (await vscode.window.showWarningMessage(`${changed}.`, options, answer)) === answer;
}

async function mayReplace(there: readonly string[]): Promise<boolean> {
  const [first = ""] = there;
  const which = there.length === 1 ? `${first} is` : `${first} and ${there.length - 1} more files are`;
  const answer = "Replace";
  return (
    (await vscode.window.showWarningMessage(`${which} there already.`, { modal: true }, answer)) === answer
  );
}

/** Undefined where the user has cancelled it. */
async function withProgress<T>(
  title: string,
  work: (signal: AbortSignal, progress: (now: ClipsProgress) => void) => Promise<T>,
): Promise<T | undefined> {
  const location = vscode.ProgressLocation.Notification;
  return vscode.window.withProgress({ location, title, cancellable: true }, async (progress, token) => {
    const stop = new AbortController();
    token.onCancellationRequested(() => stop.abort());
    const began = Date.now();
    let told = 0;
    const made = await work(stop.signal, ({ done, of }) => {
      const seconds = ((Date.now() - began) / 1000 / done) * (of - done);
      const message = `${done} of ${of}${done === of ? "" : `, ${timeLeft(seconds)}`}`;
      progress.report({ message, increment: ((done - told) / of) * 100 });
      told = done;
    });
    return stop.signal.aborted ? undefined : made;
  });
}

async function offerToOpen(said: string, where: vscode.Uri): Promise<void> {
  const answer = "Show the Folder";
  if ((await vscode.window.showInformationMessage(said, answer)) !== answer) return;
  // A browser has no folders to show; there it is the editor's own tree, where the folder is open.
  if (vscode.env.uiKind === vscode.UIKind.Desktop)
    await vscode.commands.executeCommand("revealFileInOS", where);
  else await vscode.commands.executeCommand("revealInExplorer", where);
}

function countOf(clips: number): string {
  return `${clips} ${clips === 1 ? "clip" : "clips"}`;
}

function programPath(name: string): string | undefined {
  const written = vscode.workspace.getConfiguration("boutline").get<string>(name, "").trim();
  return written === "" ? undefined : written;
}
