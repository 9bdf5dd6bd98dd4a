// Every rule a finding can name has its page, and no page explains a rule that is not there.

import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import { isRuleId, pageOf, ruleBook, studyOf } from "../../src/rules";

const root = path.join(import.meta.dirname, "..", "..");
const folder = path.join(root, "media", "rules");
const pages = readdirSync(folder);
const ids = Object.keys(ruleBook);

/** Rules without a page. */
function unexplained(rules: Iterable<string>): string[] {
  return [...rules].filter((rule) => !pages.includes(pageOf(rule)));
}

function sources(room: string): string {
  const inside = path.join(root, "src", room);
  return readdirSync(inside, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => readFileSync(path.join(inside, name), "utf8"))
    .join("\n");
}

test("every rule has a page, and a list with a rule that has none is noticed", () => {
  expect(unexplained(ids)).toEqual([]);
  expect(unexplained([...ids, "no-such-rule"])).toEqual(["no-such-rule"]);
});

test("no page is left over", () =>
  expect(pages.filter((name) => !name.endsWith(".md") || !isRuleId(name.slice(0, -3)))).toEqual([]));

test("every rule that reading a bout file can report is in the rule book", () => {
  const reported = new Set(
    [...sources("bout").matchAll(/(?:report|problem)\(\s*"([a-z-]+)"|rule: "([a-z-]+)"/g)].map(
      ([, one, other]) => one ?? other ?? "",
    ),
  );
  expect(reported.size).toBeGreaterThanOrEqual(8);
  expect([...reported].filter((rule) => !isRuleId(rule))).toEqual([]);
});

test("every rule in the rule book can be reported", () => {
  const code = sources("rules") + sources("bout");
  const silent = ids.filter((id) => {
    const uses = code.split(`"${id}"`).length - 1;
    // Once in the rule book itself, where a name of one word stands without quotes.
    return uses < (id.includes("-") ? 2 : 1);
  });
  expect(silent).toEqual([]);
});

describe.each(ids)("the page of %s", (id) => {
  const page = readFileSync(path.join(folder, pageOf(id)), "utf8");

  test("has a title, the rule's name, and all its parts with something in them", () => {
    expect(page).toMatch(/^# [A-Z].*\n\nRule `/);
    expect(page).toContain(`Rule \`${id}\`. `);
    const parts = page.split(/^## /m).slice(1);
    expect(parts.map((part) => part.slice(0, part.indexOf("\n")))).toEqual([
      "What it says",
      "Where it comes from",
      "Editions",
      "Example",
      "What to do",
    ]);
    for (const part of parts) expect(part.split("\n").slice(1).join("").trim().length).toBeGreaterThan(8);
  });
});

/** Log entries of a page's example, where it is made of whole entries. */
function exampleEntries(page: string): string | undefined {
  const code = /```jsonc\n([\s\S]*?)```/.exec(page)?.[1];
  return code?.startsWith('{ "kind"') === true ? code : undefined;
}

describe("an example made of whole entries is readable, apart from the mistake it shows", () => {
  const unreadable = new Set([
    "not-json",
    "unknown-kind",
    "wrong-value",
    "missing",
    "unknown-field",
    "duplicate-key",
  ]);
  const shown = ids.flatMap((id) => {
    const example = exampleEntries(readFileSync(path.join(folder, pageOf(id)), "utf8"));
    return example === undefined ? [] : [[id, example] as const];
  });
  test.each(shown)("%s", (id, example) => {
    const seated = /re-centre/.test(example) ? "fie-2026" : "wheelchair-2026";
    const text = `{ "boutline": 1, "bout": { "weapon": "foil", "format": "elimination", "rules": "${seated}" },
      "fencers": { "left": { "name": "Tarn" }, "right": { "name": "Odrey" } }, "log": [${example}] }`;
    const reading = readBout(text);
    const rules = (studyOf(reading)?.findings ?? reading.problems).map(({ rule }) => rule);
    if (unreadable.has(id)) expect(rules).toContain(id);
    else expect(reading.problems).toEqual([]);
  });
});
