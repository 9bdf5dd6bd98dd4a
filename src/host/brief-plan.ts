// The plan's file as a panel writes to it: what the coach types is kept soon after, what somebody else has written there
// meanwhile stays, and what can't be kept waits until it can.

import path from "node:path";
import * as vscode from "vscode";
import { thingOf, withoutTie, withTie, withWords, type Tie, type WrittenPlan } from "../figures/brief";
import type { Result } from "../bout/result";
import type { ToBrief } from "../messages/brief";
import { changePlan, planFileIn, planOnDisk, type PlanOf } from "../shelf/plan-file";

export interface Typed {
  readonly thing: number;
  readonly words: string;
  /** The words that were there before. */
  readonly base: string;
  /** Phrases of the suggestion it was written beside. */
  readonly offer: Tie | undefined;
}

/** Milliseconds without a key press after which what was typed is written. */
const pause = 400;

export class BriefPlan implements vscode.Disposable {
  readonly #of: PlanOf;
  readonly #folders: () => readonly string[];
  readonly #say: (message: ToBrief) => void;
  /** What is typed and not in the file yet. */
  readonly #typed = new Map<number, Typed>();
  /** The words this panel has written last, which are nobody else's. */
  readonly #written = new Map<number, string>();
  #timer: NodeJS.Timeout | undefined;
  #turn: Promise<unknown> = Promise.resolve();

  constructor(of: PlanOf, folders: () => readonly string[], say: (message: ToBrief) => void) {
    this.#of = of;
    this.#folders = folders;
    this.#say = say;
  }

  /** Full path, whether it is there or not. */
  get file(): string {
    return planFileIn(this.#folders(), this.#of);
  }

  get name(): string {
    return path.basename(this.file);
  }

  /** Once everything asked before is done. `value` undefined: there is no file. */
  read(): Promise<Result<WrittenPlan | undefined, string>> {
    return this.#inTurn(async () => {
      const read = await planOnDisk(this.file, this.#of);
      if (!read.ok) return read;
      const { text, plan } = read.value;
      return { ok: true as const, value: text === undefined ? undefined : plan };
    });
  }

  /** Writes it soon. */
  type(typed: Typed): void {
    const offer = typed.offer ?? this.#typed.get(typed.thing)?.offer;
    this.#typed.set(typed.thing, { ...typed, offer });
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.flush(), pause);
  }

  /** Writes what was typed and is not written yet; again what could not be. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer);
    for (const typed of [...this.#typed.values()]) await this.#inTurn(() => this.#keep(typed));
  }

  tie(thing: number, tie: Tie): Promise<void> {
    return this.#change(thing, (now) => withTie(now, thing, tie));
  }

  untie(thing: number, about: string): Promise<void> {
    return this.#change(thing, (now) => withoutTie(now, thing, about));
  }

  dispose(): void {
    void this.flush().then(async () => {
      const left = [...this.#typed.values()];
      if (left.length === 0) return;
      const answer = "Open It as a Text";
      const said = await vscode.window.showWarningMessage(
        `What you wrote in the plan could not be kept in ${this.name}.`,
        answer,
      );
      if (said !== answer) return;
      const content = left.map(({ thing, words }) => `${thing + 1}. ${words}`).join("\n\n");
      await vscode.window.showTextDocument(await vscode.workspace.openTextDocument({ content }));
    });
  }

  async #keep(typed: Typed): Promise<void> {
    const { thing, words, base, offer } = typed;
    const busy = this.#busy();
    if (busy !== undefined) {
      this.#say({ type: "not kept", thing, theirs: null, why: busy });
      return;
    }
    let theirs: string | undefined;
    const kept = await changePlan(this.file, this.#of, (now) => {
      const there = thingOf(now, thing);
      theirs = undefined;
      if (![base, words, this.#written.get(thing)].includes(there.do)) {
        theirs = there.do;
        return undefined;
      }
      const next = withWords(now, thing, words);
      const wants = offer !== undefined && there.ties.length === 0 && there.do === "" && words.trim() !== "";
      return wants ? withTie(next, thing, offer) : next;
    });
    const isNewest = this.#typed.get(thing) === typed;
    if (kept.ok && theirs === undefined) {
      if (isNewest) this.#typed.delete(thing);
      this.#written.set(thing, words);
      this.#say({ type: "kept", thing, words });
      return;
    }
    if (theirs !== undefined) {
      // It is for the coach to say whose words stand; the panel holds both meanwhile.
      this.#written.delete(thing);
      if (isNewest) this.#typed.delete(thing);
    }
    const why = kept.ok
      ? ""
      : `${this.name} can't be used: ${kept.problem}. What you write stays here meanwhile.`;
    this.#say({ type: "not kept", thing, theirs: theirs ?? null, why });
  }

  async #change(thing: number, change: (now: WrittenPlan) => WrittenPlan): Promise<void> {
    await this.flush();
    await this.#inTurn(async () => {
      const busy = this.#busy();
      const kept = busy === undefined ? await changePlan(this.file, this.#of, change) : undefined;
      if (kept?.ok === true) return;
      const why = busy ?? `${this.name} can't be used: ${kept?.problem ?? ""}`;
      this.#say({ type: "say", message: `${why} Thing ${thing + 1} is tied as before.` });
    });
  }

  /** Somebody works on the file as text: writing under their hands would make them choose between two texts. */
  #busy(): string | undefined {
    const { file } = this;
    const open = vscode.workspace.textDocuments.some(
      ({ uri, isDirty, isClosed }) => isDirty && !isClosed && uri.scheme === "file" && uri.fsPath === file,
    );
    return open
      ? `${this.name} is open as a text with changes that are not saved; save it, and what you write here is kept too.`
      : undefined;
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#turn.then(work);
    this.#turn = turn.catch(() => undefined);
    return turn;
  }
}
