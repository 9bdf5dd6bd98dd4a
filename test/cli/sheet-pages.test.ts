import { existsSync, readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { buildCommand, type Command } from "./command";

const demo = readFileSync(
  path.join(import.meta.dirname, "..", "..", "media", "demo", "demo.bout.json"),
  "utf8",
);

let command: Command;
beforeAll(async () => {
  command = await buildCommand();
  command.write("demo.bout.json", demo);
});
afterAll(() => command.remove());

const written = (...parts: string[]) => readFileSync(path.join(command.folder, ...parts), "utf8");

describe("boutline sheet --html and --svg", () => {
  test("write the sheet as one page and its charts as pictures, and leave nothing half-made", async () => {
    const { status, errors } = await command.run(
      "sheet",
      "demo.bout.json",
      "--html",
      "out/sheet.html",
      "--svg",
      "charts",
    );
    expect(errors).toBe("");
    expect(status).toBe(1);
    expect(written("out", "sheet.html")).toContain("<h1>Foil, category B, quarter-final (demo)</h1>");
    expect(readdirSync(path.join(command.folder, "out"))).toEqual(["sheet.html"]);
    expect(readdirSync(path.join(command.folder, "charts"))).toEqual(
      expect.arrayContaining(["actions.svg", "drift.svg", "opened.svg", "score.svg"]),
    );
    expect(written("charts", "score.svg")).toContain('xmlns="http://www.w3.org/2000/svg"');
  });

  test("write over nothing unless told to", async () => {
    command.write("there.html", "mine");
    const refused = await command.run("sheet", "demo.bout.json", "--html", "there.html", "--svg", "none");
    expect(refused).toMatchObject({ status: 2, out: "" });
    expect(refused.errors).toContain("there.html is there already; --force writes over it");
    expect(written("there.html")).toBe("mine");
    expect(existsSync(path.join(command.folder, "none"))).toBe(false);
    await command.run("sheet", "demo.bout.json", "--html", "there.html", "--force");
    expect(written("there.html")).toContain("<!DOCTYPE html>");
  });

  test("say what is wrong where a file can't be written", async () => {
    const { status, out, errors } = await command.run(
      "sheet",
      "demo.bout.json",
      "--html",
      "demo.bout.json/x.html",
    );
    expect(status).toBe(2);
    expect(out).toBe("");
    expect(errors).toContain("can't be written");
  });
});
