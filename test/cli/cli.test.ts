import { execFileSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { caution } from "../../src/figures";
import { at, phrase, textOf, type Written } from "../rules/bouts";
import { buildCommand, type Command } from "./command";

// Each test starts processes, which a busy machine may take seconds for.
vi.setConfig({ testTimeout: 60_000 });

let command: Command;
beforeAll(async () => {
  command = await buildCommand();
}, 60_000);
afterAll(() => command.remove());

const good: Written[] = [
  phrase("0:10", "0:12", { award: "left", actions: ["left attack"] }),
  phrase("0:20", "0:22", { award: "right", actions: ["left attack", "right parry", "right riposte"] }),
];
const board: Written = { kind: "board", at: at("0:30"), score: [2, 1] };

const bad = { good: textOf({}, good), wrong: textOf({}, [...good, board]) };

describe("boutline sheet", () => {
  test("prints both names, the score, rates with limits and the caution, and ends with 0", async () => {
    const { status, out, errors } = await command.run("sheet", command.write("a.bout.json", bad.good));
    expect([status, errors]).toEqual([0, ""]);
    expect(out).toMatch(/Tarn \(left\) +Odrey \(right\)/);
    expect(out).toMatch(/^score +1 +1$/m);
    expect(out).toMatch(/^ {2}by attack +1 of 2, 50\.0 % \(9\.5–90\.5\) +-$/m);
    expect(out).toMatch(/^ {2}by riposte +- +1 of 1, 100\.0 % \(20\.7–100\.0\)$/m);
    expect(out).toContain("findings: none");
    expect(out.trimEnd().split("\n").slice(-caution.length)).toEqual(caution);
  });

  test("has aligned columns and no colours", async () => {
    const { out } = await command.run("sheet", command.write("a.bout.json", bad.good));
    const rows = out.split("\n").filter((line) => /^(score|touches in|opened alone|cards) /.test(line));
    expect(rows).toHaveLength(4);
    expect(new Set(rows.map((row) => row.search(/(?<= {3})\S/))).size).toBe(1);
    expect(out).not.toMatch(/\u001b/);
  });

  test("--json prints the sheet for other programs, and 1 with a warning among its findings", async () => {
    const file = command.write("b.bout.json", bad.wrong);
    const { status, out, errors } = await command.run("sheet", file, "--json");
    expect([status, errors]).toEqual([1, ""]);
    expect(JSON.parse(out)).toMatchObject({
      sheet: 1,
      score: [1, 1],
      winner: null,
      phrases: 2,
      fencingSeconds: 4,
      tagged: { count: 2, of: 2, value: 1 },
      sides: {
        left: { touches: 1, attempts: { attack: { count: 1, of: 2, value: 0.5 } }, appeals: { left: 2 } },
        right: { touches: 1, touchesByAction: { riposte: 1 } },
      },
      bothLamps: { left: 0, right: 0, neither: 0 },
      reviews: { byOfficials: { asked: 0, changed: 0, decided: 0 } },
      drift: null,
      findings: [{ rule: "board-disagrees", severity: "warning", entry: 2, at: "0:00:30.000" }],
    });
  });

  test("names findings by line and column", async () => {
    const text = bad.wrong;
    const { status, out } = await command.run("sheet", command.write("b.bout.json", text));
    const line = text.slice(0, text.indexOf('"kind": "board"')).split("\n").length - 1;
    expect(status).toBe(1);
    expect(out).toContain(`  ${line}:3: warning board-disagrees `);
  });

  test("notes alone end with 0", async () => {
    const file = command.write("c.bout.json", textOf({}, [phrase("0:10", "0:12")]));
    const { status, out } = await command.run("sheet", file);
    expect(status).toBe(0);
    expect(out).toContain("note not-yet-called");
  });

  test("a name can't command the terminal", async () => {
    const fencers = { left: { name: "Tarn\u001b[31m\nfake" }, right: { name: "Odrey" } };
    const { out } = await command.run("sheet", command.write("d.bout.json", textOf({}, good, fencers)));
    expect(out).not.toMatch(/\u001b/);
    expect(out).toContain("Tarn□[31m□fake (left)");
  });

  test("a file that starts with a mark or has Windows line ends gives the same sheet", async () => {
    const plain = await command.run("sheet", command.write("a.bout.json", bad.wrong), "--json");
    const marked = await command.run("sheet", command.write("e.bout.json", `\uFEFF${bad.wrong}`), "--json");
    const windows = command.write("f.bout.json", bad.wrong.replaceAll("\n", "\r\n"));
    expect(marked).toEqual(plain);
    expect(await command.run("sheet", windows, "--json")).toEqual(plain);
  });
});

describe("boutline check", () => {
  test("prints one finding a line with file, line and column", async () => {
    const wrong = command.write("b.bout.json", bad.wrong);
    const { status, out, errors } = await command.run("check", command.write("a.bout.json", bad.good), wrong);
    expect([status, errors]).toEqual([1, ""]);
    expect(out).toMatch(/^b\.bout\.json:\d+:3: warning board-disagrees the board shows 2:1, .*\n$/);
  });

  test("says nothing about a good file and ends with 0", async () => {
    const { status, out, errors } = await command.run("check", command.write("a.bout.json", bad.good));
    expect([status, out, errors]).toEqual([0, "", ""]);
  });

  test("--json: findings by entry, problems of the text by line and column", async () => {
    const text = bad.wrong.replace('"riposte"', '"x"').replace("right parry", "right parrry");
    const { status, out } = await command.run("check", command.write("g.bout.json", text), "--json");
    expect(status).toBe(1);
    const [checked] = JSON.parse(out) as { file: string; findings: Written[] }[];
    expect(checked?.file).toBe("g.bout.json");
    const [problem, finding] = checked?.findings ?? [];
    const line = text.slice(0, text.indexOf("parrry")).split("\n").length;
    expect(problem).toMatchObject({ rule: "wrong-value", severity: "error", line });
    expect(problem).not.toHaveProperty("entry");
    expect(finding).toMatchObject({ rule: "board-disagrees", entry: 2, at: "0:00:30.000" });
    expect(finding).not.toHaveProperty("line");
  });

  test("a text that is no JSON is reported where it breaks", async () => {
    const file = command.write("h.bout.json", '{\n  "boutline": 1,\n  "log": [\n');
    const { status, out } = await command.run("check", file);
    expect(status).toBe(1);
    expect(out).toMatch(/^h\.bout\.json:\d+:\d+: error not-json /m);
  });
});

describe("input that can't be used ends with 2, says why, and prints nothing", () => {
  const cases: [string, (command: Command) => string[], RegExp][] = [
    [
      "a file that is not there",
      () => ["sheet", "none.bout.json"],
      /none\.bout\.json: there is no such file/,
    ],
    [
      "the same for check, though others are there",
      (c) => ["check", c.write("a.bout.json", bad.good), "none.bout.json"],
      /no such file/,
    ],
    [
      "a folder",
      (c) => {
        mkdirSync(path.join(c.folder, "folder"), { recursive: true });
        return ["sheet", "folder"];
      },
      /folder: this is a folder/,
    ],
    ["a device", () => ["sheet", "/dev/null"], /not a regular file/],
    [
      "a text that is no JSON",
      (c) => ["sheet", c.write("h.bout.json", "{ not json")],
      /h\.bout\.json:1:\d+: .*\n.*can't be read/s,
    ],
    [
      "half of a bout file",
      (c) => ["sheet", c.write("i.bout.json", bad.good.slice(0, -40)), "--json"],
      /can't be read/,
    ],
    [
      "an empty file",
      (c) => ["sheet", c.write("j.bout.json", "")],
      /j\.bout\.json:1:1: .*\n.*can't be read/s,
    ],
    [
      "JSON that is no bout file",
      (c) => ["sheet", c.write("k.bout.json", "[1, 2]")],
      /can't be read as a bout file/,
    ],
    [
      "a bout without a weapon",
      (c) => ["sheet", c.write("l.bout.json", bad.good.replace('"weapon": "foil",', ""))],
      /weapon is missing/,
    ],
    [
      "bytes that are no text",
      (c) => ["sheet", c.write("m.bout.json", new Uint8Array([0xff, 0xfe, 0x7b, 0x00]))],
      /not UTF-8/,
    ],
    ["no file at all", () => ["sheet"], /name one bout file/],
    ["two files for one sheet", () => ["sheet", "a", "b"], /name one bout file/],
    ["check without a file", () => ["check"], /at least one/],
    ["an option that is none", () => ["sheet", "a.bout.json", "--jsn"], /--jsn.*boutline sheet --help/],
    [
      "a verb that is none",
      () => ["shet", "a.bout.json"],
      /no verb "shet".*sheet, brief, drift, check, clips, probe, prepare, seminar, reference, agree, export, query/,
    ],
    ["nothing", () => [], /boutline VERB FILE/],
  ];
  test.each(cases)("%s", async (_, words, message) => {
    const { status, out, errors } = await command.run(...words(command));
    expect([status, out]).toEqual([2, ""]);
    expect(errors).toMatch(message);
  });

  test.skipIf(process.platform === "win32")("a named pipe that nobody writes to", async () => {
    execFileSync("mkfifo", [path.join(command.folder, "pipe")]);
    for (const verb of ["sheet", "check"]) {
      const { status, out, errors } = await command.run(verb, "pipe");
      expect([status, out]).toEqual([2, ""]);
      expect(errors).toContain("pipe: this is not a regular file");
    }
  });
});

describe("boutline itself", () => {
  test("--help names the verbs, and each verb has its own", async () => {
    const { status, out } = await command.run("--help");
    expect(status).toBe(0);
    const verbs = [...out.matchAll(/^ {2}([a-z]+) +\S/gm)].map(([, verb]) => verb ?? "");
    expect(verbs.filter((verb) => verb !== "boutline")).toEqual([
      "sheet",
      "brief",
      "drift",
      "check",
      "clips",
      "probe",
      "prepare",
      "seminar",
      "reference",
      "agree",
      "export",
      "query",
    ]);
    for (const verb of ["sheet", "drift", "check", "clips", "probe", "prepare", "export", "query"]) {
      const help = await command.run(verb, "--help");
      expect(help.status).toBe(0);
      expect(help.out).toContain(`boutline ${verb} ${verb === "query" ? '"SELECT' : "FILE"}`);
    }
  });
  test("--version is the package's", async () =>
    expect((await command.run("--version")).out).toBe("9.8.7\n"));

  test("a reader that stops early is no error", async () => {
    const many = Array.from({ length: 3000 }, (_, index) =>
      phrase("0:10", "0:12", { tags: [String(index)] }),
    );
    const file = command.write("n.bout.json", textOf({ format: "training" }, many));
    const { status, errors } = await command.runUnread("check", file);
    expect([status, errors]).toEqual([1, ""]);
  });
});
