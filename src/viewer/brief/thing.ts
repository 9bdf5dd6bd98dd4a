// One of the three things to do: a field for the coach's words, what stands under it, and whether the words are kept. What
// is typed is never taken away: where the file says something else by now, the coach chooses.

import { element, setText } from "../dom";
import { HostPage } from "../host-page";

export interface ThingNeeds {
  /** What was typed; `base` are the words that were there before. */
  readonly typed: (words: string, base: string) => void;
  /** To be kept for the next start of the editor: null once it is in the file. */
  readonly draft: (draft: Draft | null) => void;
  readonly pressed: (figure: Element, version: number) => void;
}

export interface Draft {
  readonly words: string;
  readonly base: string;
}

export class Thing {
  readonly element: HTMLElement;
  readonly #needs: ThingNeeds;
  readonly #words: HTMLTextAreaElement;
  readonly #state = element("p", { class: "key state", role: "status" });
  readonly #choice = element("div", { class: "choice", role: "group" });
  readonly #notes: HostPage;
  /** What the file said when it was last seen. */
  #base = "";
  #theirs: string | undefined;
  #told = false;
  /** The field holds what was being written when the window was closed, as far as the editor had noted it by then. */
  #drafted = false;

  constructor(number: number, draft: Draft | null, needs: ThingNeeds) {
    this.#needs = needs;
    const id = `thing-${number}`;
    this.#words = element("textarea", {
      id,
      rows: 2,
      maxlength: 5000,
      placeholder: "What to do, in your own words",
      "data-key": `plan.${number - 1}.words`,
    });
    const notes = element("div", { class: "notes" });
    this.#notes = new HostPage(notes, { pressed: needs.pressed });
    this.#choice.hidden = true;
    this.element = element(
      "li",
      { class: "thing" },
      element("label", { for: id }, `${number}. To do`),
      this.#words,
      this.#state,
      this.#choice,
      notes,
    );
    this.#words.addEventListener("input", () => this.#typed());
    if (draft === null) return;
    this.#words.value = draft.words;
    this.#base = draft.base;
    this.#drafted = true;
  }

  /** What the file says, and what stands under the field. */
  take(words: string, notes: string, version: number): void {
    this.#notes.show(version, notes);
    const mine = this.#words.value;
    // The editor notes drafts now and then only: one that the file holds was kept, and more was written after it.
    const overtaken = this.#drafted && words.includes(mine);
    this.#drafted = false;
    if (mine === this.#base || mine === words || overtaken) {
      if (mine !== words) this.#words.value = words;
      this.#settle(words);
    } else if (words !== this.#base) this.clash(words);
    // Typed before the window was loaded again, and not kept then.
    else if (!this.#told) this.#typed();
    this.#told = true;
    this.#fit();
  }

  /** These words are in the file now. */
  kept(words: string, file: string): void {
    this.#base = words;
    if (this.#words.value !== words) return;
    this.#settle(words);
    setText(this.#state, `Kept in ${file}.`);
  }

  notKept(why: string): void {
    setText(this.#state, why);
  }

  /** The file says something else by now. */
  clash(theirs: string): void {
    if (this.#theirs === theirs) return;
    this.#theirs = theirs;
    const mine = this.#words.value;
    const both = theirs.trim() === "" ? mine : `${theirs}\n${mine}`;
    setText(this.#state, "Not kept yet.");
    const button = (words: string, chosen: string) => {
      const made = element("button", { type: "button", class: "plain" }, words);
      made.addEventListener("click", () => this.#choose(chosen, theirs));
      return made;
    };
    this.#choice.replaceChildren(
      element(
        "p",
        {},
        theirs.trim() === ""
          ? "Somebody has emptied this in the file meanwhile."
          : "Somebody has written something else here meanwhile:",
      ),
      element("blockquote", {}, theirs),
      button("Keep mine", mine),
      button("Take theirs", theirs),
      button("Keep both", both),
    );
    this.#choice.hidden = false;
  }

  #choose(chosen: string, theirs: string): void {
    this.#words.value = chosen;
    this.#base = theirs;
    this.#theirs = undefined;
    this.#choice.hidden = true;
    this.#words.focus();
    if (chosen === theirs) this.#settle(theirs);
    else this.#typed();
    this.#fit();
  }

  #typed(): void {
    this.#drafted = false;
    this.#fit();
    const { value } = this.#words;
    this.#needs.draft({ words: value, base: this.#base });
    if (this.#theirs !== undefined) {
      // The choice is between the words as they are now.
      const theirs = this.#theirs;
      this.#theirs = undefined;
      this.clash(theirs);
      return;
    }
    setText(this.#state, "");
    this.#needs.typed(value, this.#base);
  }

  #settle(words: string): void {
    this.#base = words;
    this.#theirs = undefined;
    this.#choice.hidden = true;
    this.#needs.draft(null);
  }

  /** As high as its words. */
  #fit(): void {
    const lines = this.#words.value.split("\n").length;
    this.#words.rows = Math.max(2, Math.min(12, lines + (this.#words.value.length > 90 * lines ? 1 : 0)));
  }
}
