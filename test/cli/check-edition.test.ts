// `boutline check` and `sheet` with a federation's own edition beside the bout file.

import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { at, phrase, textOf } from "../rules/bouts";
import { buildCommand, type Command } from "./command";

vi.setConfig({ testTimeout: 60_000 });

let command: Command;
beforeAll(async () => {
  command = await buildCommand();
}, 60_000);
afterAll(() => command.remove());

const bout = textOf({ rules: "harbour-2026", format: "pool" }, [
  ...[10, 20, 30, 40].map((second) => phrase(`0:${second}`, `0:${second + 2}`, { award: "left" })),
  { kind: "end", at: at("0:50"), by: "touches", winner: "left" },
]);
const edition = (touches: unknown) =>
  JSON.stringify({
    boutlineEdition: 1,
    id: "harbour-2026",
    title: "Harbour league",
    source: "league leaflet",
    extends: "fie-2026",
    formats: { pool: { touches: { value: touches, source: "league leaflet, 2" } } },
  });

test("without the edition's file the bout is counted by another, and the page of the rule is named", async () => {
  const { status, out } = await command.run("check", command.write("a.bout.json", bout));
  expect(status).toBe(1);
  expect(out).toMatch(
    /a\.bout\.json:6:\d+: error unknown-edition .*no harbour-2026\.edition\.json beside.*\[unknown-edition\.md\]\n/,
  );
  expect(out).toMatch(/ warning end-against-score .*\[end-against-score\.md\]\n/);
});

test("with it beside the bout nothing is wrong, and --json names the page of what is", async () => {
  command.write("harbour-2026.edition.json", edition(4));
  expect(await command.run("check", command.write("a.bout.json", bout))).toEqual({
    status: 0,
    out: "",
    errors: "",
  });
  const wrong = textOf({ rules: "harbour-2026" }, [
    phrase("0:10", "0:12", { award: "left" }),
    { kind: "board", at: at("0:20"), score: [2, 0] },
  ]);
  const { out } = await command.run("check", command.write("b.bout.json", wrong), "--json");
  expect(JSON.parse(out)).toMatchObject([
    { file: "b.bout.json", findings: [{ rule: "board-disagrees", entry: 1, page: "board-disagrees.md" }] },
  ]);
});

test("a mistake in the edition's file is told with its place there", async () => {
  command.write("harbour-2026.edition.json", edition("four"));
  const { status, out } = await command.run("check", command.write("a.bout.json", bout));
  expect(status).toBe(1);
  expect(out).toMatch(/ error edition-file harbour-2026\.edition\.json:1:\d+: .*touches\.value/);
});
