import type { TextDocument, WebviewPanel } from "vscode";
import { expect, test } from "vitest";
import { editBout } from "../../src/bout/edit";
import { failure, success, type Result } from "../../src/bout/result";
import { BoutDocuments } from "../../src/host/documents";
import { Tagger } from "../../src/host/tagger";
import { View } from "../../src/host/view";
import type { Plan, Writer, Written } from "../../src/host/writer";
import { toViewer, type ToHost, type ToViewer } from "../../src/messages/contract";
import { boutText, phrase, second } from "./bouts";

/** A viewer of a text, with a writer that keeps the text in memory. */
function open(log: readonly object[], about: object = {}) {
  let text = boutText(log, about);
  const document = { version: 1, getText: () => text };
  const documents = new BoutDocuments();
  const sent: ToViewer[] = [];
  const panel = { visible: true, webview: { postMessage: (one: unknown) => sent.push(toViewer.parse(one)) } };
  const view = new View(document as unknown as TextDocument, panel as unknown as WebviewPanel, documents);
  const writer = {
    async write(_: unknown, plan: Plan | Promise<Plan>): Promise<Result<Written, string>> {
      const { reading, study } = documents.read(document as unknown as TextDocument);
      if (study === undefined) throw new Error("no bout");
      const planned = (await plan)(study, reading);
      if (!planned.ok) return planned;
      if (planned.value === undefined) return success({ index: undefined });
      const edited = editBout(reading.scan, planned.value);
      if (!edited.ok) return failure(edited.problem.message);
      typed(edited.value.text);
      return success({ index: edited.value.index });
    },
  };
  const typed = (after: string) => {
    text = after;
    document.version++;
  };
  view.receive({ type: "ready" });
  return {
    view,
    tagger: new Tagger(writer as unknown as Writer),
    typed,
    log: () => (JSON.parse(text) as { log: Record<string, unknown>[] }).log,
    said: () => sent.flatMap((message) => (message.type === "say" ? [message.message] : [])),
    sent,
    version: () => document.version,
  };
}

const field = (version: number, index: number, name: string, value: unknown) =>
  ({ type: "field", version, index, field: name, value }) as Extract<ToHost, { type: "field" }>;
const notes = [
  { kind: "note", at: second(1), text: "one" },
  { kind: "note", at: second(2), text: "two" },
];

test("A field is written into the entry the page shows", async () => {
  const { view, tagger, log, said } = open(notes);
  await tagger.setField(view, field(1, 1, "text", "three"));
  expect(log()[1]?.["text"]).toBe("three");
  expect(said()).toEqual([]);
});

test("A field for an entry that has moved meanwhile is refused", async () => {
  const { view, tagger, typed, log, said } = open(notes);
  const moved = [{ kind: "note", at: second(0), text: "nought" }, ...notes];
  typed(boutText(moved));
  await tagger.setField(view, field(1, 1, "text", "three"));
  expect(log()).toEqual(moved);
  expect(said()).toEqual([expect.stringContaining("was changed meanwhile")]);
});

test("A field of an older version is written where its entry is still the same", async () => {
  const { view, tagger, typed, log, said } = open(notes);
  typed(boutText([...notes, { kind: "note", at: second(3) }]));
  await tagger.setField(view, field(1, 1, "text", "three"));
  expect(log()[1]?.["text"]).toBe("three");
  expect(said()).toEqual([]);
});

test("Two moves of the same end in quick succession are both written", async () => {
  const { view, tagger, log, said } = open([phrase(1, 3)]);
  await tagger.setField(view, field(1, 0, "halt", "0:00:03.040"));
  await tagger.setField(view, field(1, 0, "halt", "0:00:03.080"));
  expect(log()[0]?.["halt"]).toBe("0:00:03.080");
  expect(said()).toEqual([]);
});

test("A field of a version nobody remembers is refused", async () => {
  const { view, tagger, log, said } = open(notes);
  await tagger.setField(view, field(99, 1, "text", "three"));
  expect(log()).toEqual(notes);
  expect(said()).toHaveLength(1);
});

test("What can't be written is said, and nothing changes", async () => {
  const { view, tagger, log, said } = open([phrase(1, 3)]);
  await tagger.setField(view, field(1, 0, "award", "middle"));
  expect(log()).toEqual([phrase(1, 3)]);
  expect(said()).toEqual([expect.stringContaining('"middle" is no value for award')]);
});

test("A tag goes to the phrase begun at or before its frame", async () => {
  const { view, tagger, log } = open([phrase(1, 3), phrase(5, 7)]);
  await tagger.tag(view, { do: "star" }, 4999.6);
  await tagger.tag(view, { do: "unsure" }, Promise.resolve(2000));
  expect(log()).toEqual([
    { ...phrase(1, 3), sure: false },
    { ...phrase(5, 7), star: true },
  ]);
});

test("With the camera opposite the referee the keys of the screen's left write right", async () => {
  const { view, tagger, log } = open([phrase(1, 3)], { view: "opposite" });
  await tagger.tag(view, { do: "action", doer: "left", key: "attack" }, 2000);
  await tagger.tag(view, { do: "award", award: "left" }, 2000);
  expect(log()[0]).toMatchObject({ actions: ["right attack"], award: "right" });
});

test("A key that opens a field sends the scene first, then the field to write in", async () => {
  const { view, tagger, sent } = open([phrase(1, 3, { award: "left" })]);
  sent.length = 0;
  await tagger.tag(view, { do: "board" }, 4000);
  expect(sent.map(({ type }) => type)).toEqual(["scene", "write"]);
  expect(sent[1]).toEqual({ type: "write", index: 1, field: "score" });
});

test("A key pressed before the viewer has shown a frame is refused, not guessed", async () => {
  const { view, tagger, log, said } = open([phrase(1, 3)]);
  await tagger.tag(view, { do: "star" }, Promise.resolve(undefined));
  expect(log()).toEqual([phrase(1, 3)]);
  expect(said()).toEqual([expect.stringContaining("nothing was tagged")]);
});

test("Placed corners become an entry at their frame", async () => {
  const { view, tagger, log } = open(notes);
  const corners = [
    [0.4, 0.8],
    [0.3, 0.8],
  ] as const;
  await tagger.place(view, 1500, { kind: "platforms", left: corners, right: null });
  expect(log()[1]).toEqual({ kind: "platforms", at: "0:00:01.500", left: corners });
});
