// Which recordings has each viewer been given? Sends them anew where the text or a viewing copy has changed, and asks the
// user about one that is missing or lies elsewhere.

import path from "node:path";
import * as vscode from "vscode";
import type { ToHost } from "../messages/contract";
import type { BoutDocuments } from "./documents";
import type { Found, Recordings } from "./recordings";
import type { View } from "./view";

interface Given {
  /** The recordings the text named, as JSON. */
  readonly named: string;
  readonly found: readonly Found[];
  readonly files: readonly string[];
}

export class ShownRecordings {
  readonly #documents: BoutDocuments;
  readonly #recordings: Recordings;
  readonly #findAgain: (document: vscode.TextDocument, file: string) => Promise<void>;
  readonly #given = new Map<View, Given>();
  readonly #turn = new WeakMap<View, number>();
  /** Recordings somebody has been asked about already. */
  readonly #asked = new Set<string>();

  /** `findAgain` looks for a recording that a bout file names and that is not there. */
  constructor(
    documents: BoutDocuments,
    recordings: Recordings,
    findAgain: (document: vscode.TextDocument, file: string) => Promise<void>,
  ) {
    this.#findAgain = findAgain;
    this.#documents = documents;
    this.#recordings = recordings;
    recordings.onChange((file) => {
      for (const [view, { found }] of this.#given)
        if (found.some((one) => isAt(one, file))) void this.give(view, true);
    });
  }

  /** Sends the recordings the text names, where they differ from those sent before, or `anew`. */
  async give(view: View, anew: boolean): Promise<void> {
    const { bout } = this.#documents.read(view.document).reading;
    const recordings = bout?.recordings ?? [];
    const named = JSON.stringify(recordings);
    const before = this.#given.get(view);
    if (!anew && before?.named === named) return;
    const turn = (this.#turn.get(view) ?? 0) + 1;
    this.#turn.set(view, turn);
    this.#given.set(view, { named, found: before?.found ?? [], files: before?.files ?? [] });
    const given = await this.#recordings.sources(view.document, recordings, view.id);
    if (!this.#given.has(view) || this.#turn.get(view) !== turn) return;
    const found = given.map((one) => one.found);
    this.#given.set(view, { named, found, files: recordings.map(({ file }) => file) });
    view.showSources(given.map(({ source }) => source));
    for (const { source, found } of given) void this.#askAbout(view, source.file, found);
  }

  anyMissing(view: View): boolean {
    return this.#given.get(view)?.found.some(({ is }) => is === "missing") ?? false;
  }

  /** The page has tried to play a recording. */
  async tried(view: View, { file, picture, sound }: Extract<ToHost, { type: "tried" }>): Promise<void> {
    const given = this.#given.get(view);
    const found = given?.found[given.files.indexOf(file)];
    if (found?.is === "there") await this.#recordings.tried(found.real, { picture, sound });
  }

  /** Makes a viewing copy of a recording of this bout because the user wants one. */
  async makeCopy(view: View): Promise<void> {
    const there = (this.#given.get(view)?.found ?? []).filter((one) => one.is === "there");
    if (there.length === 0) void vscode.window.showInformationMessage("No recording of this bout is there.");
    const chosen =
      there.length < 2
        ? there[0]
        : (
            await vscode.window.showQuickPick(
              there.map((one) => ({ label: path.posix.basename(one.uri.path), one })),
              { title: "Make a viewing copy of which recording?" },
            )
          )?.one;
    if (chosen !== undefined) await this.#recordings.makeCopy(chosen.real);
  }

  forget(view: View): void {
    this.#given.delete(view);
    this.#recordings.release(view.id);
  }

  /** Asks once for a recording that is not there, or whether one from elsewhere may be played. */
  async #askAbout(view: View, file: string, found: Found): Promise<void> {
    if (found.uri === undefined || found.is === "there") return;
    const about = `${view.document.uri.toString()} ${found.uri.toString()} ${found.is}`;
    if (this.#asked.has(about)) return;
    this.#asked.add(about);
    const answer = found.is === "missing" ? "Find It Again" : "Play It";
    if ((await vscode.window.showWarningMessage(found.problem, answer)) !== answer) return;
    if (found.is === "outside") {
      await this.#recordings.allow(view.document.uri, found.uri);
      await this.give(view, true);
    } else await this.#findAgain(view.document, file);
  }
}

function isAt(found: Found, file: string): boolean {
  return found.is === "there" && found.real.fsPath === file;
}
