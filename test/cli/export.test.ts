// An export that a full disk or its user stops: what was there before is there still, to the byte.

import { mkdirSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { boutOf } from "../shelf/folder";
import { exportFormats } from "../../src/shelf/export";
import { buildCommand, type Command } from "./command";

// Each test starts processes, which a busy machine may take seconds for.
vi.setConfig({ testTimeout: 60_000 });

let command: Command;
beforeAll(async () => {
  command = await buildCommand();
  mkdirSync(path.join(command.folder, "few"));
  mkdirSync(path.join(command.folder, "many"));
  command.write("few/0.bout.json", boutOf(0, 3));
  for (let number = 0; number < 300; number += 1)
    command.write(`many/${number}.bout.json`, boutOf(number, 60));
}, 60_000);
afterAll(() => command.remove());

/** Every file of a folder with its bytes. */
function contents(name: string): Record<string, string> {
  const folder = path.join(command.folder, name);
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  return Object.fromEntries(
    files.map((one) => {
      const file = path.join(one.parentPath, one.name);
      return [path.relative(folder, file), readFileSync(file, "latin1")];
    }),
  );
}

describe("What was exported before stays as it was", () => {
  for (const format of exportFormats)
    it(`where the disk has no room for the new ${format}`, async () => {
      const out = `full-${format}`;
      const options = ["--format", format, "--out", out];
      expect(await command.run("export", "few", ...options)).toMatchObject({ status: 0, errors: "" });
      const before = contents(out);
      const full = await command.runWithin(2, "export", "many", ...options, "--force");
      expect(full.status).toBe(2);
      expect(full.errors).toMatch(/can't be written \(E\w+: .+\); what was there is as it was\n$/);
      expect(contents(out)).toEqual(before);
      expect(readdirSync(path.join(command.folder, out)).filter((name) => name.startsWith("."))).toEqual([]);
    });

  it("where it is interrupted, and its command says so", async () => {
    const options = ["--format", exportFormats.join(), "--out", "stopped"];
    await command.run("export", "few", ...options);
    const before = contents("stopped");
    const isUnderWay = () =>
      readdirSync(path.join(command.folder, "stopped")).some((name) => name.endsWith(".part"));
    const stopped = await command.runInterrupted(isUnderWay, "export", "many", ...options, "--force");
    expect(stopped).toEqual({
      status: null,
      out: "",
      errors: "boutline export: stopped; nothing was changed\n",
    });
    expect(contents("stopped")).toEqual(before);
    expect(isUnderWay()).toBe(false);
  });
});
