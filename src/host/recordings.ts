// The recordings a bout file names, made reachable for a viewer: found, allowed, and handed to the media server.

import { realpath } from "node:fs/promises";
import * as vscode from "vscode";
import type { Recording } from "../bout/schema";
import type { Source } from "../messages/contract";
import type { Media } from "./media";
import type { Tried } from "./viewing-copies";
import { liesInside, recordingSteps } from "./recording-path";

/** Where the answer to "may this be played?" is kept. */
const allowedKey = "boutline.allowedRecordings";

export type Found =
  /** `real` is the file itself, links followed, as it was checked; nothing else is served. */
  | { readonly is: "there"; readonly uri: vscode.Uri; readonly real: vscode.Uri }
  | { readonly is: "missing" | "outside" | "refused"; readonly problem: string; readonly uri?: vscode.Uri };

export class Recordings implements vscode.Disposable {
  readonly #context: vscode.ExtensionContext;
  readonly #changed = new vscode.EventEmitter<string>();
  readonly #seen: (place: string, real: string) => void;
  #media: Promise<Media> | undefined;

  /** A recording, by path, is to be shown differently: its viewing copy has got on. */
  readonly onChange = this.#changed.event;

  /** `seen` is told of each recording that is opened: where a bout file names it, and the file itself. */
  constructor(
    context: vscode.ExtensionContext,
    seen: (place: string, real: string) => void = () => undefined,
  ) {
    this.#context = context;
    this.#seen = seen;
  }

  /** Origin of the media server for a viewer's content policy; undefined where it can't be started. */
  async origin(viewer: string): Promise<string | undefined> {
    try {
      return await (await this.#server()).origin(viewer);
    } catch {
      return undefined;
    }
  }

  /** A source for each recording. `found` says for each what became of it. */
  async sources(
    document: vscode.TextDocument,
    recordings: readonly Recording[],
    viewer: string,
  ): Promise<readonly { readonly source: Source; readonly found: Found }[]> {
    return Promise.all(
      recordings.map(async ({ file, offset = 0 }) => {
        const found = await this.find(document.uri, file);
        if (found.is === "there" && found.real.scheme === "file")
          this.#seen(found.uri.fsPath, found.real.fsPath);
        const served =
          found.is === "there"
            ? await this.#serve(found.real, viewer)
            : { ...nothing, problem: `${found.problem}${whereToAnswer(found)}` };
        return { source: { file, offset, ...served }, found };
      }),
    );
  }

  async find(bout: vscode.Uri, file: string): Promise<Found> {
    const steps = recordingSteps(file);
    if (!steps.ok) return { is: "refused", problem: steps.problem };
    const uri = vscode.Uri.joinPath(bout, "..", ...steps.value);
    try {
      // The server looks again, and never opens a pipe or a device.
      const { type } = await vscode.workspace.fs.stat(uri);
      if ((type & vscode.FileType.Directory) !== 0)
        return { is: "refused", problem: `${file} is a folder, not a recording.` };
      if ((type & vscode.FileType.File) === 0)
        return { is: "refused", problem: `${file} is not a regular file, so it is not played.` };
    } catch {
      return { is: "missing", problem: `${file} is not there: ${uri.fsPath}.`, uri };
    }
    const real = await realUri(uri);
    if (await this.#isAllowed(bout, real)) return { is: "there", uri, real };
    return {
      is: "outside",
      problem: `${file} lies outside the folders open here, so it is played only if you allow it.`,
      uri,
    };
  }

  async allow(bout: vscode.Uri, uri: vscode.Uri): Promise<void> {
    const allowed = this.#context.workspaceState.get<readonly string[]>(allowedKey, []);
    await this.#context.workspaceState.update(allowedKey, [...allowed, permit(bout, await realUri(uri))]);
  }

  release(viewer: string): void {
    void this.#media?.then((media) => media.release(viewer));
  }

  /** A page has tried to play the recording itself; makes the viewing copy it needs. */
  async tried(real: vscode.Uri, tried: Tried): Promise<void> {
    await (await this.#server()).tried(real, tried);
  }

  async makeCopy(real: vscode.Uri): Promise<void> {
    await (await this.#server()).makeCopy(real);
  }

  async clearCopies(): Promise<void> {
    await (await this.#server()).clearCopies();
  }

  /** Ends once no process runs any more. */
  async end(): Promise<void> {
    await (await this.#media)?.end();
  }

  dispose(): void {
    void this.end();
    this.#changed.dispose();
  }

  async #serve(uri: vscode.Uri, viewer: string): Promise<Omit<Source, "file" | "offset">> {
    try {
      const { status, ...served } = await (await this.#server()).serve(uri, viewer);
      return { ...served, state: status?.words ?? "", settled: status?.settled ?? true };
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      return { ...nothing, problem: `The recording can't be handed to the viewer: ${reason}` };
    }
  }

  #server(): Promise<Media> {
    this.#media ??= import("./media").then(
      ({ Media }) => new Media(this.#context, (file) => this.#changed.fire(file)),
    );
    return this.#media;
  }

  async #isAllowed(bout: vscode.Uri, real: vscode.Uri): Promise<boolean> {
    const opened = (vscode.workspace.workspaceFolders ?? []).map((folder) => folder.uri);
    const folders = [
      // A bout file opened by itself stands for its own folder.
      ...(opened.length === 0 ? [vscode.Uri.joinPath(bout, "..")] : opened),
      // Copies of the demo that the user asked for.
      this.#context.globalStorageUri,
    ].filter(({ scheme }) => scheme === real.scheme);
    const inside = await Promise.all(folders.map(async (folder) => (await realUri(folder)).path));
    if (liesInside(real.path, inside)) return true;
    const allowed = this.#context.workspaceState.get<readonly string[]>(allowedKey, []);
    return allowed.includes(permit(bout, real));
  }
}

const nothing = { address: null, frames: null, sound: null, state: "", settled: true };

/** Questions hide behind VS Code's bell after a while. */
function whereToAnswer({ is }: Found): string {
  switch (is) {
    case "missing":
      return " If it was moved, find it again: in the notifications, behind the bell at the bottom.";
    case "outside":
      return " You can do so in the notifications, behind the bell at the bottom.";
    default:
      return "";
  }
}

/** A bout file and a recording, as remembered. */
function permit(bout: vscode.Uri, real: vscode.Uri): string {
  return `${bout.toString()} ${real.path}`;
}

/** The same file with links followed. */
async function realUri(uri: vscode.Uri): Promise<vscode.Uri> {
  if (uri.scheme !== "file") return uri;
  try {
    return vscode.Uri.file(await realpath(uri.fsPath));
  } catch {
    return uri;
  }
}
