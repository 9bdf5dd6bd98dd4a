// The quick way from a bout file to its phrase table gives what the thorough one gives, or nothing.

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import fc from "fast-check";
import { afterAll, expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import { phraseTable } from "../../src/figures";
import { studyOf } from "../../src/rules";
import { ledgerAt } from "../../src/shelf/ledger-at";
import { quickLedger } from "../../src/shelf/quick-ledger";
import { anyBout } from "../bout/texts";
import { inventedBout } from "./generated";

const folder = mkdtempSync(path.join(tmpdir(), "boutline-ledger-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const source = { bout: "b", file: "b.bout.json" };
function tables(text: string) {
  const quick = quickLedger(text, text.split(":").length - 1);
  const study = studyOf(readBout(text), undefined);
  return {
    quick: quick && phraseTable(quick, source),
    thorough: study && phraseTable(study.ledger, source),
  };
}

test("whatever the log", () => {
  let taken = 0;
  fc.assert(
    fc.property(anyBout, ({ text }) => {
      const { quick, thorough } = tables(text);
      if (quick === undefined) return;
      taken++;
      expect(quick).toEqual(thorough);
    }),
    { numRuns: 500 },
  );
  expect(taken).toBeGreaterThan(50);
});

test("for bouts as they are, the demo with its platforms among them", () => {
  const demo = readFileSync(path.join(import.meta.dirname, "../../media/demo/demo.bout.json"), "utf8");
  for (const text of [
    demo,
    ...Array.from({ length: 10 }, (_, number) => inventedBout(number, { bouts: 10 })),
  ]) {
    const { quick, thorough } = tables(text);
    expect(quick?.length).toBeGreaterThan(20);
    expect(quick).toEqual(thorough);
  }
});

test("and a file with something wrong in it is read thoroughly, or told with the reason", async () => {
  const text = inventedBout(1, { bouts: 10 });
  const write = (name: string, content: string) => {
    const file = path.join(folder, name);
    writeFileSync(file, content);
    return file;
  };
  const sound = await ledgerAt(write("sound.bout.json", text));
  const withComment = await ledgerAt(write("comment.bout.json", `// seen twice\n${text}`));
  if (!sound.ok || !withComment.ok) throw new Error("They can't be read.");
  expect(phraseTable(withComment.value, source)).toEqual(phraseTable(sound.value, source));
  expect(await ledgerAt(write("broken.bout.json", "{"))).toMatchObject({ ok: false });
  expect(await ledgerAt(path.join(folder, "nothing.bout.json"))).toMatchObject({ ok: false });
});
