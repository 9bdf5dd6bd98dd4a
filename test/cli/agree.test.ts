import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { classOfTwelve, sitting } from "../figures/seminar-class";
import { buildCommand, type Command } from "./command";

vi.setConfig({ testTimeout: 60_000 });

let command: Command;
const { key, answers } = classOfTwelve();
let files: string[];
beforeAll(async () => {
  command = await buildCommand();
  command.write("key.json", JSON.stringify(key));
  files = answers.map((one) => command.write(`${one.reader}-${one.way}.answers.json`, JSON.stringify(one)));
}, 60_000);
afterAll(() => command.remove());

describe("boutline agree", () => {
  test("says in words and numbers what the class differs on", async () => {
    const { status, out, errors } = await command.run("agree", "key.json", ...files);
    expect([status, errors]).toEqual([0, ""]);
    expect(out).toMatch(/^Evening <seminar>: 12 readers, 12 clips/);
    expect(out).toMatch(/The class agrees .* on whose touch/);
    expect(out).toContain("for discussion");
  });

  test("prints an object under its own version", async () => {
    const json = JSON.parse((await command.run("agree", "key.json", ...files, "--json")).out) as object;
    expect(Object.entries(json)[0]).toEqual(["agree", 1]);
  });

  test("writes a table for each question, whose columns the guide explains, and never over others", async () => {
    const words = ["agree", "key.json", ...files, "--csv", "tables"];
    expect((await command.run(...words)).status).toBe(0);
    const guide = readFileSync(path.join(import.meta.dirname, "../../media/seminars.md"), "utf8");
    const names = readdirSync(path.join(command.folder, "tables")).toSorted();
    expect(names).toEqual(
      ["against-reference", "calls", "clips", "pairs", "readers", "sureness", "together", "ways"].map(
        (name) => `${name}.csv`,
      ),
    );
    for (const name of names) {
      const lines = readFileSync(path.join(command.folder, "tables", name), "utf8")
        .trim()
        .split("\r\n");
      const columns = (lines[0] ?? "").split(",");
      expect(guide).toContain(`\`${name}\``);
      for (const column of columns) expect(guide, `${name}: ${column}`).toContain(`\`${column}\``);
      if (name === "readers.csv") expect(lines).toHaveLength(14);
      if (name === "clips.csv") expect(lines).toHaveLength(13);
      if (name === "sureness.csv") expect(lines).toHaveLength(5);
    }
    const again = await command.run(...words);
    expect([again.status, again.out]).toEqual([2, ""]);
    expect(again.errors).toContain("--force");
  });

  test("writes a page that plays the pack's clips, and never over another unless told to", async () => {
    const first = await command.run("agree", "key.json", ...files, "--html", "class.html");
    expect(first.status).toBe(0);
    const page = path.join(command.folder, "class.html");
    expect(readFileSync(page, "utf8")).toContain('src="pack/clips/a0000000.mp4"');
    const again = await command.run("agree", "key.json", ...files, "--html", "class.html");
    expect([again.status, again.out]).toEqual([2, ""]);
    expect(again.errors).toContain("--force");
    expect((await command.run("agree", "key.json", ...files, "--html", "class.html", "--force")).status).toBe(
      0,
    );
  });

  test.each([
    ["to another pack", { ...sitting("Yew", [], { pack: "6".repeat(32) }) }, /another pack/],
    ["changed by hand", { ...sitting("Yew", []), reader: "Pine" }, /changed after/],
    ["of a reader who has answered", sitting("ash", []), /already answered/],
    ["of a role", sitting("Yew", [], { role: "head referee" }), /for the reference/],
  ])("refuses answers %s, and writes nothing", async (_, wrong, reason) => {
    const file = command.write("wrong.answers.json", JSON.stringify(wrong));
    const { status, out, errors } = await command.run(
      "agree",
      "key.json",
      ...files,
      file,
      "--html",
      "no.html",
    );
    expect([status, out]).toEqual([2, ""]);
    expect(errors).toMatch(reason);
    expect(errors).toContain("wrong.answers.json");
    expect(existsSync(path.join(command.folder, "no.html"))).toBe(false);
  });

  test("refuses what can't be read, naming every such file", async () => {
    command.write("text.answers.json", "{");
    const { status, errors } = await command.run("agree", "key.json", "text.answers.json", "missing.json");
    expect(status).toBe(2);
    expect(errors).toContain("text.answers.json");
    expect(errors).toContain("missing.json: there is no such file");
    expect((await command.run("agree", "key.json")).status).toBe(2);
    expect((await command.run("agree", "text.answers.json", ...files)).status).toBe(2);
  });
});
