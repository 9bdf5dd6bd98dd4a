import { expect, test } from "vitest";
import type { TextDocument } from "vscode";
import { BoutDocuments } from "../../src/host/documents";
import { readEdition, type EditionFile } from "../../src/rules/index";
import { boutText } from "./bouts";

/** As much of a document as is asked for. */
function opened(text: string): TextDocument {
  return { version: 1, getText: () => text } as unknown as TextDocument;
}

const edition = (appeals: number): EditionFile => ({
  file: "harbour-2026.edition.json",
  text: JSON.stringify({
    boutlineEdition: 1,
    id: "harbour-2026",
    title: "Harbour league, 2026",
    source: "invented for this check",
    extends: "wheelchair-2026",
    formats: { elimination: { appeals: { value: appeals, source: "invented for this check" } } },
  }),
});

test("A version of a document is read and counted once, however many ask", () => {
  const documents = new BoutDocuments();
  const document = opened(boutText([]));
  const { reading, study } = documents.read(document);
  expect(documents.read(document).reading).toBe(reading);
  expect(documents.read(document).study).toBe(study);
});

test("A bout is counted anew, though not read anew, when its edition's file says something else", () => {
  let own: EditionFile | undefined;
  const documents = new BoutDocuments({ beside: () => own });
  const document = opened(boutText([], { rules: "harbour-2026", video: true }));
  const { reading, study } = documents.read(document);
  expect(study?.findings.map(({ rule }) => rule)).toContain("unknown-edition");
  for (const appeals of [4, 1]) {
    own = edition(appeals);
    expect(readEdition(own.text, own).ok).toBe(true);
    const read = documents.read(document);
    expect(read.reading).toBe(reading);
    expect(read.study?.edition.id).toBe("harbour-2026");
    expect(read.study?.ledger.start.appeals).toEqual({ left: appeals, right: appeals });
    expect(documents.read(document).study).toBe(read.study);
  }
});
