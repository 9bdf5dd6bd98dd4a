// The media server as VS Code uses it: settings, trust, and the way from a viewer's page to this machine.

import path from "node:path";
import * as vscode from "vscode";
import { MediaServer, type Served } from "./media-server";

export type { Served } from "./media-server";

/** Recordings for viewers; one for the extension, disposed with it. `viewer` is any text that names one viewer. */
export class Media implements vscode.Disposable {
  readonly #server: MediaServer;

  constructor(context: vscode.ExtensionContext) {
    this.#server = new MediaServer({
      cacheDir: path.join(context.globalStorageUri.fsPath, "frames"),
      get ffprobePath(): string | undefined {
        const written = vscode.workspace.getConfiguration("boutline").get<string>("ffprobePath", "").trim();
        return written === "" ? undefined : written;
      },
      trusted: () => vscode.workspace.isTrusted,
      asExternal: async (address) =>
        (await vscode.env.asExternalUri(vscode.Uri.parse(address))).toString(true),
    });
  }

  /** Makes a recording reachable for a viewer. Where it may lie is the caller's to check. */
  async serve(recording: vscode.Uri, viewer: string): Promise<Served> {
    if (recording.scheme !== "file") {
      const problem = `${path.posix.basename(recording.path)} is not on a disk of the machine the extension runs on. Copy it there.`;
      return { address: null, frames: null, problem };
    }
    return this.#server.serve(recording.fsPath, viewer);
  }

  /** See the server's: holds it for the viewer, until released. */
  origin(viewer: string): Promise<string> {
    return this.#server.origin(viewer);
  }

  release(viewer: string): void {
    this.#server.release(viewer);
  }

  dispose(): void {
    this.#server.dispose();
  }
}
