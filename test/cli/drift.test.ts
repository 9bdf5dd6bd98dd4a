import { readFileSync } from "node:fs";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { textOf } from "../rules/bouts";
import { buildCommand, type Command } from "./command";

// Each test starts processes, which a busy machine may take seconds for.
vi.setConfig({ testTimeout: 60_000 });

let command: Command;
let demo: string;
beforeAll(async () => {
  command = await buildCommand();
  demo = command.write(
    "demo.bout.json",
    readFileSync(path.join(import.meta.dirname, "..", "..", "media", "demo", "demo.bout.json"), "utf8"),
  );
}, 60_000);
afterAll(() => command.remove());

describe("boutline drift", () => {
  test("tells of the demo which way, who opens, re-centres and the gap, and lists every move", async () => {
    const { out, errors } = await command.run("drift", demo);
    expect(errors).toBe("");
    expect(out).toMatch(/^The platforms drift towards the right end, \d\.\d cm a phrase/);
    expect(out).toMatch(/It matters who opens/);
    expect(out).toMatch(/The referee re-centred 4 times/);
    expect(out).toMatch(/The platforms closed by \d\.\d ± \d\.\d.cm between/);
    expect(out).toMatch(/^0:00:03\.640 +1 +2\.5 ± 0\.8/m);
  });

  test("prints the same object as the sheet, under its own version", async () => {
    const [drift, sheet] = await Promise.all([
      command.run("drift", demo, "--json"),
      command.run("sheet", demo, "--json"),
    ]);
    const alone = JSON.parse(drift.out) as Record<string, unknown>;
    const within = (JSON.parse(sheet.out) as { drift: Record<string, unknown> }).drift;
    expect(alone).toMatchObject({ ...within, drift: 1 });
  });

  test("says of a bout without platforms that there is nothing to tell, and no number", async () => {
    const file = command.write("none.bout.json", textOf({}, []));
    expect((await command.run("drift", file)).out).toMatch(/^Nothing to tell yet/);
    expect(JSON.parse((await command.run("drift", file, "--json")).out)).toMatchObject({
      drift: 1,
      steps: [],
      towards: null,
      alongPerPhrase: null,
      gap: null,
    });
  });

  test("ends with 2 and prints nothing where the file can't be read or too many are named", async () => {
    const { status, out } = await command.run("drift", command.write("bad.bout.json", "{"));
    expect([status, out]).toEqual([2, ""]);
    expect((await command.run("drift", demo, demo)).status).toBe(2);
  });
});
