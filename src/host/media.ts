// Recordings for viewers as VS Code has them: settings, trust, the way from a viewer's page to this machine, and viewing
// copies with their progress.

import path from "node:path";
import * as vscode from "vscode";
import { MediaServer, type Served } from "./media-server";
import { type CopyStatus, type CopyWork, type Tried, ViewingCopies } from "./viewing-copies";

/** What plays for a recording: itself or its viewing copy, and how that copy is doing. */
export interface Playable extends Served {
  readonly status: CopyStatus | undefined;
}

/** One for the extension, disposed with it. `viewer` is any text that names one viewer. */
export class Media implements vscode.Disposable {
  readonly #server: MediaServer;
  readonly #copies: ViewingCopies;
  /** Sentences shown already: one is enough for each. */
  readonly #said = new Set<string>();
  readonly #trust: vscode.Disposable;

  /** `changed` is called with the path of a recording that is to be shown differently. */
  constructor(context: vscode.ExtensionContext, changed: (file: string) => void) {
    const cacheDir = path.join(context.globalStorageUri.fsPath, "frames");
    const trusted = () => vscode.workspace.isTrusted;
    this.#server = new MediaServer({
      cacheDir,
      get ffprobePath() {
        return programPath("ffprobePath");
      },
      get ffmpegPath() {
        return programPath("ffmpegPath");
      },
      trusted,
      asExternal: async (address) =>
        (await vscode.env.asExternalUri(vscode.Uri.parse(address))).toString(true),
    });
    this.#copies = new ViewingCopies({
      settings: () => ({
        cacheDir,
        ffprobePath: programPath("ffprobePath"),
        ffmpegPath: programPath("ffmpegPath"),
        folder: programPath("viewingCopy.folder"),
        lines: setting("viewingCopy.lines", 540),
        mostBytes: setting("viewingCopy.mostGigabytes", 20) * 1e9,
      }),
      trusted,
      automatic: () => setting("viewingCopy.automatic", true),
      desktop: vscode.env.uiKind === vscode.UIKind.Desktop,
      frames: (file) => this.#server.frames(file),
      changed,
      watch: showProgress,
      hindered: (sentence) => {
        if (this.#said.has(sentence)) return;
        this.#said.add(sentence);
        void vscode.window.showWarningMessage(sentence);
      },
    });
    this.#trust = vscode.workspace.onDidGrantWorkspaceTrust(() => void this.#copies.trustGranted());
  }

  /** Makes a recording reachable for a viewer, by its viewing copy where there is one. Where it may lie is the caller's
   * to check. */
  async serve(recording: vscode.Uri, viewer: string): Promise<Playable> {
    if (recording.scheme !== "file") {
      const problem = `${path.posix.basename(recording.path)} is not on a disk of the machine the extension runs on. Copy it there.`;
      return { address: null, frames: null, sound: null, problem, status: undefined };
    }
    const file = recording.fsPath;
    const [itself, copy] = await Promise.all([this.#server.serve(file, viewer), this.#copies.find(file)]);
    if (itself.address === null) return { ...itself, status: undefined };
    const status = this.#copies.status(file);
    const problem = status.problem;
    if (copy === undefined) return { ...itself, problem, status };
    await this.#copies.hold(copy, viewer);
    const { address, frames, problem: trouble } = await this.#server.serve(copy.file, viewer, copy.index);
    return address === null
      ? { ...itself, problem: trouble, status }
      : { address, frames, sound: itself.sound, problem, status };
  }

  tried(recording: vscode.Uri, tried: Tried): Promise<void> {
    return this.#copies.tried(recording.fsPath, tried);
  }

  makeCopy(recording: vscode.Uri): Promise<void> {
    return this.#copies.make(recording.fsPath);
  }

  async clearCopies(): Promise<void> {
    const { copies, bytes } = await this.#copies.clear();
    void vscode.window.showInformationMessage(
      copies === 0
        ? "There are no viewing copies to clear; those being played stay."
        : `${copies} viewing ${copies === 1 ? "copy" : "copies"} cleared: ${size(bytes)}. Those being played stay.`,
    );
  }

  /** See the server's: holds it for the viewer, until released. */
  origin(viewer: string): Promise<string> {
    return this.#server.origin(viewer);
  }

  release(viewer: string): void {
    this.#server.release(viewer);
    this.#copies.release(viewer);
  }

  /** Ends once no process runs any more. */
  async end(): Promise<void> {
    this.#trust.dispose();
    this.#server.dispose();
    await this.#copies.end();
  }

  dispose(): void {
    void this.end();
  }
}

function setting<T>(name: string, usual: T): T {
  return vscode.workspace.getConfiguration("boutline").get<T>(name, usual);
}

function programPath(name: string): string | undefined {
  const written = setting(name, "").trim();
  return written === "" ? undefined : written;
}

function showProgress({ name, cancel, done, follow }: CopyWork): void {
  const title = `Making a viewing copy of ${name}`;
  const location = vscode.ProgressLocation.Notification;
  void vscode.window.withProgress({ location, title, cancellable: true }, async (progress, token) => {
    token.onCancellationRequested(cancel);
    let told = 0;
    follow((share, message) => {
      progress.report({ message, increment: (share - told) * 100 });
      told = share;
    });
    await done;
  });
}

function size(bytes: number): string {
  return bytes < 1e9 ? `${Math.ceil(bytes / 1e6)} MB` : `${(bytes / 1e9).toFixed(1)} GB`;
}
