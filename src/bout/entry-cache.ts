// Entries already checked, by their value or their text, so that reading a changing document again checks only what is new.

import type { Entry } from "./schema";

export class EntryCache {
  /** The raw values of a scan, which are taken over into the next one where an edit did not touch them. */
  readonly #byValue = new WeakMap<object, Entry>();
  readonly #byText = new Map<string, Entry>();

  find(raw: unknown, text: () => string): Entry | undefined {
    const known = isObject(raw) ? this.#byValue.get(raw) : undefined;
    if (known !== undefined) return known;
    const found = this.#byText.get(text());
    if (found !== undefined && isObject(raw)) this.#byValue.set(raw, found);
    return found;
  }

  /** Remembers an entry that was read without any problem. */
  keep(raw: unknown, text: string, entry: Entry): void {
    if (isObject(raw)) this.#byValue.set(raw, entry);
    this.#byText.set(text, entry);
  }

  /** Forgets the texts where there are more than `most` of them. */
  limit(most: number): void {
    if (this.#byText.size > most) this.#byText.clear();
  }
}

function isObject(value: unknown): value is object {
  return typeof value === "object" && value !== null;
}
