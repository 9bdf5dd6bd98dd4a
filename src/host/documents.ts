// The bout files that are open, read and counted. Each version of a document is read once, however many ask, and an
// entry whose text did not change is not checked again.

import type { TextDocument } from "vscode";
import { readBout, type EntryCache, type Reading } from "../bout/read";
import { studyOf, type Study } from "../rules";

export interface ReadDocument {
  readonly reading: Reading;
  /** Undefined where the text holds no bout. */
  readonly study: Study | undefined;
}

interface Known {
  readonly version: number;
  readonly read: ReadDocument;
}

/** Texts of entries remembered beyond those of the log now read, from before the latest edits. */
const spareEntries = 2000;

export class BoutDocuments {
  readonly #known = new WeakMap<TextDocument, Known>();
  readonly #entries = new WeakMap<TextDocument, EntryCache>();
  readonly #expected = new WeakMap<TextDocument, Reading>();

  /** The newest text of the document, read and counted. */
  read(document: TextDocument): ReadDocument {
    const known = this.#known.get(document);
    if (known?.version === document.version) return known.read;
    const text = document.getText();
    const expected = this.#expected.get(document);
    const reading = expected?.scan.text === text ? expected : this.#readText(document, text);
    const read: ReadDocument = { reading, study: studyOf(reading) };
    this.#known.set(document, { version: document.version, read });
    return read;
  }

  /** Reads the text the document is about to have; once it has it, it is not read again. */
  expect(document: TextDocument, text: string): Reading {
    const reading = this.#readText(document, text);
    this.#expected.set(document, reading);
    return reading;
  }

  #readText(document: TextDocument, text: string): Reading {
    const entries: EntryCache = this.#entries.get(document) ?? (new Map() as EntryCache);
    const reading = readBout(text, entries);
    if (entries.size > (reading.bout?.log.length ?? 0) * 2 + spareEntries) entries.clear();
    this.#entries.set(document, entries);
    return reading;
  }
}
