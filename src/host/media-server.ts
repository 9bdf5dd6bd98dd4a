// Serves recordings to viewers over HTTP on this machine's loopback, in ranges: a viewer's own resource address takes
// many seconds to seek in a long recording. It runs while a viewer holds it. A recording is named by a token nobody can
// guess, so no address names a path; a page that is not a viewer is turned away by its Host and Origin.

import { randomBytes } from "node:crypto";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import type { Result } from "../bout/result";
import { answer, type Answering, type Grant } from "./media-answer";
import type { FrameIndex } from "../video/index";
import { reasonAgainst } from "./media-file";
import { FrameTables, type FrameTablesOptions } from "./media-frames";
import { SoundLevels, type SoundLevelsOptions } from "./media-sound";

export interface MediaServerOptions extends FrameTablesOptions, SoundLevelsOptions {
  /** Address by which the viewer's page reaches an address of this machine (`vscode.env.asExternalUri`). */
  readonly asExternal: (address: string) => Promise<string>;
}

/** Shaped for the contract of viewer and host. */
export interface Served {
  /** Null where it can't be played, and `problem` says why. */
  readonly address: string | null;
  /**
   * Address of its presentation times (Float64, little endian, seconds, first frame 0). A request waits until they are
   * known; 404 with a sentence as text where they can't be. The header `First-Frame` says the first frame's own time
   * in the file, in seconds, which the browser's `mediaTime` includes.
   */
  readonly frames: string | null;
  /**
   * Address of how loud it is: a byte for each hundredth of a second from its first frame on, 0 to 255, sent as they are
   * worked out. 204 without sound, 404 with a sentence where it can't be read.
   */
  readonly sound: string | null;
  /** A sentence for the user; empty where all is well. */
  readonly problem: string;
}

interface Listening {
  readonly server: Server;
  readonly address: string;
  /** Hosts a request may name. */
  readonly hosts: Set<string>;
  /** Where this server appears from outside; behind a proxy the page itself comes from there. */
  readonly origins: Set<string>;
}

export class MediaServer {
  readonly #options: MediaServerOptions;
  readonly #tables: FrameTables;
  readonly #sounds: SoundLevels;
  /** viewer -> file -> grant */
  readonly #viewers = new Map<string, Map<string, Grant>>();
  /** token -> grant */
  readonly #grants = new Map<string, Grant>();
  #listening: Promise<Listening> | undefined;

  constructor(options: MediaServerOptions) {
    this.#options = options;
    this.#tables = new FrameTables(options);
    this.#sounds = new SoundLevels(options);
  }

  /** Makes a recording reachable for a viewer, by full path. Its frame table is begun in the background, unless it is
   * given: that of a viewing copy goes by the clock of its recording. */
  async serve(file: string, viewer: string, table?: FrameIndex): Promise<Served> {
    const held = this.#hold(viewer);
    const reason = await reasonAgainst(file);
    if (reason !== "") return refused(reason);
    try {
      const listening = await this.#listen();
      if (this.#viewers.get(viewer) !== held) return refused("The viewer was closed.");
      const grant = held.get(file) ?? this.#grant(file);
      held.set(file, grant);
      const [address, frames, sound] = await Promise.all([
        this.#outside(listening, grant.token),
        this.#outside(listening, `${grant.token}/frames`),
        this.#outside(listening, `${grant.token}/sound`),
      ]);
      if (this.#viewers.get(viewer) !== held) return refused("The viewer was closed.");
      if (table === undefined) this.#tables.want(file);
      else this.#tables.give(file, table);
      // Once trusted these are other addresses to the page, which asks again.
      const mark = this.#options.trusted() ? "" : "#untrusted";
      return { address, frames: frames + mark, sound: sound + mark, problem: "" };
    } catch (error) {
      return refused(`The recording can't be passed to the viewer: ${messageOf(error)}`);
    }
  }

  /** The viewer is gone: its addresses stop working, and the server ends with the last viewer. */
  release(viewer: string): void {
    const held = this.#viewers.get(viewer);
    if (held === undefined) return;
    this.#viewers.delete(viewer);
    for (const grant of held.values()) {
      this.#grants.delete(grant.token);
      for (const response of grant.answers) response.destroy();
      if ([...this.#grants.values()].some(({ file }) => file === grant.file)) continue;
      this.#tables.forget(grant.file);
      this.#sounds.forget(grant.file);
    }
    if (this.#viewers.size === 0) this.#close();
  }

  /** What the viewer's content policy must allow (`media-src`, `connect-src`). Holds the server for this viewer, so
   * that the origin stays the same until the viewer is released. */
  async origin(viewer: string): Promise<string> {
    this.#hold(viewer);
    return new URL(await this.#outside(await this.#listen(), "")).origin;
  }

  /** Waits for a served recording's frame table. */
  frames(file: string): Promise<Result<FrameIndex, string>> {
    return this.#tables.of(file);
  }

  dispose(): void {
    for (const viewer of [...this.#viewers.keys()]) this.release(viewer);
  }

  #hold(viewer: string): Map<string, Grant> {
    const held = this.#viewers.get(viewer) ?? new Map<string, Grant>();
    this.#viewers.set(viewer, held);
    return held;
  }

  #grant(file: string): Grant {
    const grant = { file, token: randomBytes(16).toString("hex"), answers: new Set<ServerResponse>() };
    this.#grants.set(grant.token, grant);
    return grant;
  }

  async #outside(listening: Listening, path: string): Promise<string> {
    const address = await this.#options.asExternal(`${listening.address}/${path}`);
    const { host, origin } = new URL(address);
    listening.hosts.add(host);
    listening.origins.add(origin);
    return address;
  }

  #listen(): Promise<Listening> {
    this.#listening ??= this.#start().catch((error: unknown) => {
      this.#listening = undefined;
      throw error;
    });
    return this.#listening;
  }

  async #start(): Promise<Listening> {
    const server = createServer();
    await new Promise<void>((resolve, reject) => {
      server.once("error", reject);
      server.listen(0, "127.0.0.1", resolve);
    });
    // The type also covers a socket file and a closed server.
    const { port } = server.address() as AddressInfo;
    const hosts = new Set([`127.0.0.1:${port}`, `localhost:${port}`]);
    const origins = new Set<string>();
    const answering: Answering = {
      hosts,
      origins,
      grant: (token) => this.#grants.get(token),
      table: (file) => this.#tables.of(file),
      sound: (file) => this.#sounds.of(file),
    };
    server.on("request", (request: IncomingMessage, response: ServerResponse) => {
      // A socket that breaks is the client's affair.
      response.on("error", () => response.destroy());
      answer(answering, request, response).catch(() => response.destroy());
    });
    return { server, address: `http://127.0.0.1:${port}`, hosts, origins };
  }

  #close(): void {
    const listening = this.#listening;
    this.#listening = undefined;
    void listening?.then(({ server }) => {
      server.close();
      server.closeAllConnections();
    });
  }
}

function refused(problem: string): Served {
  return { address: null, frames: null, sound: null, problem };
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
