import type { TextDocument, WebviewPanel } from "vscode";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { BoutDocuments } from "../../src/host/documents";
import { View } from "../../src/host/view";
import { toViewer, type ToViewer } from "../../src/messages/contract";
import type { Item } from "../../src/messages/scene";
import { boutText, second } from "./bouts";

/** A panel that keeps what its page is sent, and a document whose text can be set. */
function open(...times: number[]) {
  const sent: ToViewer[] = [];
  const panel = {
    visible: true,
    webview: {
      postMessage: (message: unknown) => {
        sent.push(toViewer.parse(message));
        return Promise.resolve(true);
      },
    },
  };
  const notes = (...at: number[]) => boutText(at.map((seconds) => ({ kind: "note", at: second(seconds) })));
  let text = notes(...times);
  const document = { version: 1, getText: () => text };
  const view = new View(
    document as unknown as TextDocument,
    panel as unknown as WebviewPanel,
    new BoutDocuments(),
  );
  return {
    view,
    panel,
    /** What came since the last look. */
    got: () => sent.splice(0),
    edit: (...at: number[]) => {
      text = notes(...at);
      document.version++;
      view.scheduleScene();
    },
  };
}

const scenes = (messages: readonly ToViewer[]) => messages.filter((message) => message.type === "scene");
const ready = { type: "ready" };

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

test("A page gets nothing before it is ready, then the whole scene", () => {
  const { view, got, edit } = open(1);
  edit(1, 2);
  vi.runAllTimers();
  expect(got()).toEqual([]);
  view.receive(ready);
  const [scene] = scenes(got());
  expect(scene).toMatchObject({ version: 2, base: null, splice: { start: 0, remove: 0 } });
  expect(scene?.splice.add).toHaveLength(2);
});

test("An edit goes as a splice of what the page has; several in a row go as one", () => {
  const { view, got, edit } = open(1, 2);
  view.receive(ready);
  got();
  edit(1, 2, 3);
  edit(1, 2, 3, 4);
  vi.runAllTimers();
  const all = scenes(got());
  expect(all).toMatchObject([{ version: 3, base: 1, splice: { start: 2, remove: 0 } }]);
  expect(all[0]?.splice.add.map(({ at }) => at)).toEqual([3000, 4000]);
});

test("A hidden page is sent nothing, and the whole scene when it is shown again", () => {
  const { view, panel, got, edit } = open(1);
  view.receive(ready);
  view.receive({ type: "focus", focused: true });
  got();
  panel.visible = false;
  view.visibilityChanged();
  expect(view.focused).toBe(false);
  edit(1, 2);
  edit(1, 2, 3);
  vi.runAllTimers();
  expect(got()).toEqual([]);
  panel.visible = true;
  view.visibilityChanged();
  const all = scenes(got());
  expect(all).toMatchObject([{ version: 3, base: null }]);
  expect(all[0]?.splice.add).toHaveLength(3);
});

test("A page that lost track asks for the whole scene and gets it", () => {
  const { view, got } = open(1);
  view.receive(ready);
  got();
  expect(view.receive({ type: "whole scene" })).toBeUndefined();
  expect(scenes(got())).toMatchObject([{ version: 1, base: null }]);
});

test("What the contract does not know is dropped", () => {
  const { view, got } = open(1);
  view.receive(ready);
  got();
  for (const message of [
    undefined,
    {},
    { type: "shout" },
    { type: "playhead", at: "soon" },
    { type: "stamp" },
  ])
    expect(view.receive(message)).toBeUndefined();
  expect(view.playhead).toBeUndefined();
  expect(got()).toEqual([]);
});

function asked(messages: readonly ToViewer[]): { request: number }[] {
  return messages.flatMap((message) => (message.type === "which frame" ? [message] : []));
}

const press = (code: string, at: number) => ({ type: "key", code, stamp: { at, frame: 20 } });

test("A key's frame is the one the page told of when it went down, each key its own, and nothing is asked", async () => {
  const { view, got } = open(1);
  view.receive(ready);
  got();
  view.receive(press("KeyF", 40));
  view.receive(press("KeyK", 80));
  expect(await view.frameOnScreen("KeyK")).toBe(80);
  expect(await view.frameOnScreen("KeyF")).toBe(40);
  expect(got()).toEqual([]);
});

test("A key that overtook the page's word of it gets the frame of its press, not of the answer", async () => {
  const { view, got } = open(1);
  view.receive(ready);
  got();
  const frame = view.frameOnScreen("KeyF");
  const [question] = asked(got());
  view.receive(press("KeyF", 40));
  view.receive({ type: "stamp", request: question?.request, stamp: { at: 100, frame: 20 } });
  expect(await frame).toBe(40);
});

test("A key the page never saw, and a command from a menu, get the frame on screen now", async () => {
  const { view, got } = open(1);
  view.receive(ready);
  view.receive(press("KeyF", 40));
  got();
  const frames = [view.frameOnScreen("KeyK"), view.frameOnScreen(null)];
  for (const { request } of asked(got()))
    view.receive({ type: "stamp", request, stamp: { at: 100, frame: 20 } });
  expect(await Promise.all(frames)).toEqual([100, 100]);
});

test("A page that does not answer is not waited for: its last playhead stands", async () => {
  const { view } = open(1);
  view.receive(ready);
  view.receive({ type: "playhead", at: 1234, playing: true });
  const frame = view.frameOnScreen("KeyF");
  await vi.advanceTimersByTimeAsync(1000);
  expect(await frame).toBe(1234);
});

test("A command given while the page opens waits for it", async () => {
  const { view, got } = open(1);
  const frame = view.frameOnScreen(null);
  await vi.advanceTimersByTimeAsync(3000);
  view.receive(ready);
  await vi.advanceTimersByTimeAsync(0);
  view.receive({ type: "stamp", request: asked(got())[0]?.request, stamp: { at: 0, frame: 20 } });
  expect(await frame).toBe(0);
});

test("A closed page leaves nobody waiting", async () => {
  const { view } = open(1);
  view.receive(ready);
  const frame = view.frameOnScreen(null);
  await vi.advanceTimersByTimeAsync(0);
  view.dispose();
  expect(await frame).toBeUndefined();
});

test("What must not be lost waits for the page; the items of earlier versions are remembered", () => {
  const { view, got, edit } = open(1);
  view.send({ type: "show", at: 5 });
  view.receive(ready);
  expect(got().at(-1)).toEqual({ type: "show", at: 5 });
  edit(1, 2);
  vi.runAllTimers();
  const at = (item: Item | undefined) => item?.at;
  expect(at(view.itemSent(1, 0))).toBe(1000);
  expect(at(view.itemSent(1, 1))).toBeUndefined();
  expect(at(view.itemSent(2, 1))).toBe(2000);
  expect(at(view.itemSent(9, 0))).toBeUndefined();
});
