// Phrases of several bouts played one after another: the right viewer comes to the front for each bout, and when its
// phrases are done the next one's does. What can't be played is passed over and told, and the rest goes on.

import * as vscode from "vscode";
import { entryOf } from "../figures/written-evidence";
import type { ToBrief } from "../messages/brief";
import type { NamedEvidence } from "../shelf/brief-bouts";
import type { BoutDocuments } from "./documents";
import type { Recordings } from "./recordings";
import type { View } from "./view";
import type { Viewers } from "./viewers";

export interface WalkServices {
  readonly documents: BoutDocuments;
  readonly recordings: Recordings;
  readonly viewers: Viewers;
}

export interface WalkAsked {
  readonly title: string;
  readonly evidence: readonly NamedEvidence[];
  /** A bout in words, by its full path. */
  readonly nameOf: (path: string) => string;
  /** Where viewers are opened. */
  readonly column: () => vscode.ViewColumn;
  /** Something is to be told. */
  readonly changed: () => void;
}

type Playing = NonNullable<Extract<ToBrief, { type: "playing" }>["now"]>;

/** Numbers of runs, so that a viewer's answer to an older one is known for what it is. */
let runs = 0;

export class Walk implements vscode.Disposable {
  readonly asked: WalkAsked;
  readonly #services: WalkServices;
  readonly #played: vscode.Disposable;
  /** By full path, so that a bout tried again is told once. */
  readonly #notes = new Map<string, string>();
  #at = -1;
  #view: View | undefined;
  #run = 0;
  #over = false;

  constructor(asked: WalkAsked, services: WalkServices) {
    this.asked = asked;
    this.#services = services;
    this.#played = services.viewers.onDidPlay(({ run, how }) => {
      if (run !== this.#run) return;
      if (how === "no picture")
        this.#note(this.#at, "its recording can't be shown here; open the bout to see why");
      // Left by the user: the next press of a button goes on.
      if (how !== "left") void this.#go(1);
    });
  }

  get now(): Playing {
    const { title, evidence, nameOf } = this.asked;
    const bout = evidence[this.#at];
    const phrases = (one: NamedEvidence) =>
      one.tied.entries.length === 1 ? "1 phrase" : `${one.tied.entries.length} phrases`;
    return {
      title,
      place: this.#over
        ? this.#notes.size < evidence.length
          ? "All played."
          : "Nothing could be played."
        : bout === undefined
          ? "Opening…"
          : `${evidence.length === 1 ? "" : `Bout ${this.#at + 1} of ${evidence.length}: `}${nameOf(bout.path)}, ${phrases(bout)}`,
      notes: [...this.#notes].map(([path, why]) => `${nameOf(path)}: ${why}.`),
      previous: this.#at > 0,
      next: !this.#over && this.#at < evidence.length - 1,
      over: this.#over,
    };
  }

  async next(): Promise<void> {
    await this.#go(1);
  }

  async previous(): Promise<void> {
    await this.#go(-1);
  }

  dispose(): void {
    this.#played.dispose();
    this.#stop();
    this.#run = 0;
  }

  async #go(step: 1 | -1): Promise<void> {
    const { evidence, changed } = this.asked;
    this.#stop();
    const run = (this.#run = ++runs);
    this.#over = false;
    let at = this.#at + step;
    for (let bout = evidence[at]; bout !== undefined; bout = evidence[at]) {
      this.#at = at;
      changed();
      const problem = await this.#play(bout, run);
      if (run !== this.#run) return;
      if (problem === undefined) {
        changed();
        return;
      }
      this.#note(at, problem);
      at += step;
    }
    this.#at = step === 1 ? evidence.length : -1;
    this.#over = step === 1;
    this.#run = 0;
    if (step === -1) await this.#go(1);
    else changed();
  }

  /** Plays the phrases of a bout; answers why it can't. */
  async #play({ path, tied: { entries } }: NamedEvidence, run: number): Promise<string | undefined> {
    const { documents, recordings, viewers } = this.#services;
    const { title, evidence, column } = this.asked;
    const uri = vscode.Uri.file(path);
    let document: vscode.TextDocument;
    try {
      document = await vscode.workspace.openTextDocument(uri);
    } catch {
      return "the bout file can't be opened any more";
    }
    const { study } = documents.read(document);
    if (study === undefined) return "the bout file can't be read any more";
    const found = entries.flatMap((entry) => entryOf(study.ledger, entry) ?? []);
    if (found.length === 0) return "its phrases are not in the bout file any more";
    if (found.length < entries.length)
      this.#note(
        this.#at,
        `${entries.length - found.length} of its phrases are not in the bout file any more`,
      );
    const { stretchesOf } = await import("../pages");
    const named = study.bout.recordings.map(({ file }) => file);
    const there = await Promise.all(named.map((file) => recordings.find(uri, file)));
    if (!there.some(({ is }) => is === "there"))
      return named.length === 0
        ? "it names no recording"
        : there.some(({ is }) => is === "outside")
          ? `${named[0] ?? ""} lies outside the folders open here; open the bout to allow it`
          : `its recording ${named[0] ?? ""} is not there`;
    if (run !== this.#run) return undefined;
    const view = await viewers.show(uri, { viewColumn: column(), passing: true });
    if (view === undefined) return "its viewer could not be opened";
    if (run !== this.#run) return undefined;
    this.#view = view;
    const place = evidence.length === 1 ? "" : ` (bout ${this.#at + 1} of ${evidence.length})`;
    const stretches = [...stretchesOf(study.bout, found)];
    view.send({ type: "play", title: `${title}${place}`, stretches, run });
    return undefined;
  }

  /** Before another viewer comes to the front: hidden, this one would play on. */
  #stop(): void {
    const view = this.#view;
    this.#view = undefined;
    if (view?.panel.visible === true) view.send({ type: "play", title: "", stretches: [] });
  }

  #note(at: number, why: string): void {
    const path = this.asked.evidence[at]?.path;
    if (path !== undefined) this.#notes.set(path, why);
    this.asked.changed();
  }
}
