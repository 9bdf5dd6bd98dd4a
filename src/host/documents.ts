// The bout files that are open, read and counted. Each version of a document is read once, however many ask, and an
// entry whose text did not change is not checked again.

import type { TextDocument } from "vscode";
import { EntryCache } from "../bout/entry-cache";
import { readScan, type Bout, type Reading } from "../bout/read";
import { scanBout, type Scan } from "../bout/scan";
import { studyOf, type EditionFile, type Study } from "../rules";

export interface ReadDocument {
  readonly reading: Reading;
  /** Undefined where the text holds no bout. Counted when first asked for: who has just changed the text need not wait.
   * Counted anew when the file of its rule edition says something else. */
  readonly study: Study | undefined;
}

interface Known {
  readonly version: number;
  readonly read: ReadDocument;
}

/** Texts of entries remembered beyond those of the log now read, from before the latest edits. */
const spareEntries = 2000;

/** Where the rule editions are that don't come with Boutline. The same text is the same object. */
export interface OwnEditions {
  beside(document: TextDocument, bout: Bout): EditionFile | undefined;
}

export class BoutDocuments {
  readonly #editions: OwnEditions | undefined;
  readonly #known = new WeakMap<TextDocument, Known>();
  readonly #entries = new WeakMap<TextDocument, EntryCache>();
  readonly #expected = new WeakMap<TextDocument, Reading>();

  constructor(editions?: OwnEditions) {
    this.#editions = editions;
  }

  /** The newest text of the document, read and counted. */
  read(document: TextDocument): ReadDocument {
    const known = this.#known.get(document);
    if (known?.version === document.version) return known.read;
    const text = document.getText();
    const expected = this.#expected.get(document);
    const reading = expected?.scan.text === text ? expected : this.#readScan(document, scanBout(text));
    const read = countedWhenAsked(reading, () =>
      reading.bout === undefined ? undefined : this.#editions?.beside(document, reading.bout),
    );
    this.#known.set(document, { version: document.version, read });
    return read;
  }

  /** Reads the text the document is about to have; once it has it, it is not read again. */
  expect(document: TextDocument, scan: Scan): Reading {
    const reading = this.#readScan(document, scan);
    this.#expected.set(document, reading);
    return reading;
  }

  #readScan(document: TextDocument, scan: Scan): Reading {
    const entries = this.#entries.get(document) ?? new EntryCache();
    const reading = readScan(scan, entries);
    entries.limit((reading.bout?.log.length ?? 0) * 2 + spareEntries);
    this.#entries.set(document, entries);
    return reading;
  }
}

function countedWhenAsked(reading: Reading, edition: () => EditionFile | undefined): ReadDocument {
  let counted: { readonly study: Study | undefined; readonly by: EditionFile | undefined } | undefined;
  return {
    reading,
    get study() {
      const by = edition();
      if (counted?.by !== by) counted = undefined;
      counted ??= { study: studyOf(reading, by), by };
      return counted.study;
    },
  };
}
