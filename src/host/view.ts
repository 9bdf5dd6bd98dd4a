// One viewer on screen: what its page has been sent, what it has told about itself, and the questions it still has to
// answer. While it is hidden it is sent nothing; shown again it gets the whole scene.

import type { TextDocument, WebviewPanel } from "vscode";
import { toHost, type Source, type ToHost, type ToViewer } from "../messages/contract";
import type { Item } from "../messages/scene";
import type { BoutDocuments } from "./documents";
import { KeyPresses } from "./key-presses";
import { sceneOf, spliceOf, type SceneContent } from "./scene";

/** How long the page may take to say which frame was on screen, in milliseconds; then its last playhead stands. A busy
 * machine is given time: a late tag at the right frame is better than one in time at the wrong one. */
const stampDeadline = 1000;
/** How long a command waits for a page that is only just being opened, in milliseconds. */
const openingDeadline = 20_000;
/** Versions of the bout whose items are remembered, for messages about one that is no longer the newest. */
const versionsKept = 12;

let views = 0;

export class View {
  /** Names this viewer to the media server. */
  readonly id = `viewer-${++views}`;
  readonly document: TextDocument;
  readonly panel: WebviewPanel;
  focused = false;
  placing = false;
  writable = true;
  /** What goes with a scene of the newest text, straight after it. */
  withScene: (() => ToViewer | undefined) | undefined;
  #playhead: number | undefined;
  #ready = false;
  #stale = true;
  #scheduled: NodeJS.Immediate | undefined;
  #sources: readonly Source[] | undefined;
  #keys: Readonly<Record<string, string>> = {};
  /** Waits for a page that has just been opened. */
  #whenReady: ToViewer[] = [];
  readonly #documents: BoutDocuments;
  /** version -> items sent, the newest last */
  readonly #sent = new Map<number, readonly Item[]>();
  /** Commands that wait for the page to open. */
  readonly #waiting = new Set<() => void>();
  readonly #questions = new Map<number, (at: number | undefined) => void>();
  readonly #presses = new KeyPresses();
  #asked = 0;
  /** The scene made last, whose items are taken over into the next. */
  #scene: SceneContent | undefined;

  constructor(document: TextDocument, panel: WebviewPanel, documents: BoutDocuments) {
    this.document = document;
    this.panel = panel;
    this.#documents = documents;
  }

  /** Milliseconds; undefined until the page has told. */
  get playhead(): number | undefined {
    return this.#playhead;
  }

  /** Takes a message from the page in; what is not the view's own business is handed back. */
  receive(raw: unknown): ToHost | undefined {
    const parsed = toHost.safeParse(raw);
    if (!parsed.success) return undefined;
    const message = parsed.data;
    switch (message.type) {
      case "ready":
        this.#becomeReady();
        break;
      case "whole scene":
        this.#stale = true;
        this.showScene();
        return undefined;
      case "focus":
        this.focused = message.focused;
        break;
      case "placing":
        this.placing = message.placing;
        break;
      case "playhead":
        this.#playhead = message.at;
        break;
      case "key":
        this.#presses.press(message.code, message.stamp, Date.now());
        return undefined;
      case "stamp":
        this.#questions.get(message.request)?.(message.stamp.at);
        return undefined;
      default:
        break;
    }
    return message;
  }

  /** The frame that was on screen when the key at this position went down, without a key the one there now; undefined
   * where the page has never told. */
  async frameOnScreen(key: string | null): Promise<number | undefined> {
    if (!this.#ready && this.panel.visible) await this.#becomesReady();
    if (!this.#ready || !this.panel.visible) return this.#playhead;
    const pressed = () => (key === null ? undefined : this.#presses.take(key, Date.now())?.at);
    // Messages keep their order: what the page answers comes after every press it has told of.
    return pressed() ?? this.#frameNow().then((shown) => pressed() ?? shown);
  }

  /** Tells the page what the editor made of a key of its. */
  keyReturned(command: string, code: string): void {
    if (this.#ready && this.panel.visible) this.#post({ type: "returned", command, code });
  }

  #frameNow(): Promise<number | undefined> {
    const request = ++this.#asked;
    return new Promise((resolve) => {
      const answer = (at: number | undefined) => {
        clearTimeout(timer);
        this.#questions.delete(request);
        resolve(at);
      };
      const deadline = this.#playhead === undefined ? openingDeadline : stampDeadline;
      const timer = setTimeout(() => answer(this.#playhead), deadline);
      this.#questions.set(request, answer);
      this.#post({ type: "which frame", request });
    });
  }

  /** Sends what must not be lost: a page not ready yet gets it when it is. */
  send(message: ToViewer): void {
    if (this.#ready && this.panel.visible) this.#post(message);
    else this.#whenReady.push(message);
  }

  /** Sends the newest text's scene soon; edits in quick succession go as one. */
  scheduleScene(): void {
    this.#scheduled ??= setImmediate(() => this.showScene());
  }

  /** Sends the newest text's scene now: as a splice of what the page has, or whole where it has nothing of use. */
  showScene(): void {
    if (this.#scheduled !== undefined) clearImmediate(this.#scheduled);
    this.#scheduled = undefined;
    if (!this.#ready || !this.panel.visible) {
      this.#stale = true;
      return;
    }
    const { version } = this.document;
    const last = [...this.#sent].at(-1);
    const base = this.#stale || last === undefined ? undefined : last;
    const { reading, study } = this.#documents.read(this.document);
    const scene = sceneOf(reading, study, this.writable, this.#scene);
    const { head, items } = scene;
    this.#scene = scene;
    this.#post({
      type: "scene",
      version,
      base: base?.[0] ?? null,
      head,
      splice: spliceOf(base?.[1] ?? [], items),
    });
    const more = this.withScene?.();
    if (more !== undefined) this.#post(more);
    this.#stale = false;
    this.#sent.delete(version);
    this.#sent.set(version, items);
    for (const old of [...this.#sent.keys()].slice(0, -versionsKept)) this.#sent.delete(old);
  }

  /** The item the page showed at this place of the log in this version; undefined where that is forgotten. */
  itemSent(version: number, index: number): Item | undefined {
    return this.#sent.get(version)?.find((item) => item.index === index);
  }

  showSources(sources: readonly Source[]): void {
    this.#sources = sources;
    if (this.#ready && this.panel.visible) this.#post({ type: "sources", sources: [...sources] });
  }

  showKeys(keys: Readonly<Record<string, string>>): void {
    this.#keys = keys;
    if (this.#ready && this.panel.visible) this.#post({ type: "keys", keys });
  }

  /** The panel came to the front or went behind others. */
  visibilityChanged(): void {
    if (!this.panel.visible) {
      this.#stale = true;
      this.focused = false;
    } else if (this.#ready) this.#sendAll();
  }

  dispose(): void {
    if (this.#scheduled !== undefined) clearImmediate(this.#scheduled);
    this.#ready = false;
    for (const done of [...this.#waiting]) done();
    for (const answer of [...this.#questions.values()]) answer(this.#playhead);
  }

  #becomesReady(): Promise<void> {
    return new Promise((resolve) => {
      const done = () => {
        clearTimeout(timer);
        this.#waiting.delete(done);
        resolve();
      };
      const timer = setTimeout(done, openingDeadline);
      this.#waiting.add(done);
    });
  }

  #becomeReady(): void {
    this.#ready = true;
    for (const done of [...this.#waiting]) done();
    this.#sent.clear();
    this.placing = false;
    this.#sendAll();
  }

  #sendAll(): void {
    this.#stale = true;
    this.showScene();
    if (this.#sources !== undefined) this.#post({ type: "sources", sources: [...this.#sources] });
    this.#post({ type: "keys", keys: this.#keys });
    for (const message of this.#whenReady.splice(0)) this.#post(message);
  }

  #post(message: ToViewer): void {
    void this.panel.webview.postMessage(message);
  }
}
