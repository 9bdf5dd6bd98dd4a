import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  applyEdits,
  editBout,
  entryText,
  type Change,
  type FieldChange,
  type Json,
} from "../../src/bout/edit";
import { readBout } from "../../src/bout/read";
import { scanBout } from "../../src/bout/scan";
import { actionWords, awards } from "../../src/bout/words";
import { anyBout, anyEntry, boutText, writtenTime } from "./texts";

function edited(text: string, change: Change): string {
  const result = editBout(scanBout(text), change);
  if (!result.ok) throw new Error(result.problem.message);
  expect(applyEdits(text, result.value.edits)).toBe(result.value.text);
  return result.value.text;
}

const note = (at: string, text = "x") => ({ kind: "note", at, text });
const set = (index: number, ...fields: FieldChange[]): Change => ({ do: "change", index, fields });

describe("a new entry", () => {
  test("goes on a line of its own in time order", () => {
    const text = boutText([note("0:00:01.000"), note("0:00:03.000")]);
    expect(edited(text, { do: "insert", entry: note("0:00:02.000", "new") })).toBe(
      boutText([note("0:00:01.000"), note("0:00:02.000", "new"), note("0:00:03.000")]),
    );
  });

  test("goes after those of the same time", () => {
    const text = boutText([note("0:00:01.000", "a"), note("0:00:01.000", "b"), note("0:00:03.000")]);
    expect(edited(text, { do: "insert", entry: note("0:00:01.000", "c") })).toBe(
      boutText([
        note("0:00:01.000", "a"),
        note("0:00:01.000", "b"),
        note("0:00:01.000", "c"),
        note("0:00:03.000"),
      ]),
    );
  });

  test("opens an empty log", () => {
    expect(edited(boutText([]), { do: "insert", entry: note("0:00:01.000") })).toBe(
      boutText([note("0:00:01.000")]),
    );
  });

  test("keeps the comment at the end of a line with its line", () => {
    const text = boutText([note("0:00:01.000"), note("0:00:03.000")]).replace(
      `"x" },\n`,
      `"x" }, // first touch\n`,
    );
    const after = edited(text, { do: "insert", entry: note("0:00:02.000") });
    expect(after).toContain(
      `${entryText(note("0:00:01.000"))}, // first touch\n    ${entryText(note("0:00:02.000"))},\n`,
    );
  });

  test("keeps CRLF line ends and a byte order mark", () => {
    const text = `\uFEFF${boutText([note("0:00:01.000")]).replaceAll("\n", "\r\n")}`;
    const after = edited(text, { do: "insert", entry: note("0:00:02.000") });
    expect(after).toBe(
      `\uFEFF${boutText([note("0:00:01.000"), note("0:00:02.000")]).replaceAll("\n", "\r\n")}`,
    );
  });
});

describe("a changed entry", () => {
  const phrase = { kind: "phrase", start: "0:00:01.000", actions: ["left attack"] };

  test("gets a new field where the format writes it", () => {
    const after = edited(boutText([phrase]), set(0, { path: ["halt"], value: "0:00:02.000" }));
    expect(after).toBe(
      boutText([{ kind: "phrase", start: "0:00:01.000", halt: "0:00:02.000", actions: ["left attack"] }]),
    );
  });

  test("gets one more action without the list being written anew", () => {
    const text = boutText([phrase]).replace('"left attack"', '"left attack" /* late */');
    const after = edited(text, set(0, { path: ["actions", 1], value: "right parry" }));
    expect(after).toContain('["left attack", "right parry" /* late */]');
  });

  test("gets a lamp whether or not lamps stood there", () => {
    const once = edited(boutText([phrase]), set(0, { path: ["lamps", "right"], value: "valid" }));
    expect(once).toContain('"lamps": { "right": "valid" }');
    expect(edited(once, set(0, { path: ["lamps", "left"], value: "off-target" }))).toContain(
      '"lamps": { "right": "valid", "left": "off-target" }',
    );
  });

  test("loses a field with its comma", () => {
    const text = boutText([{ ...phrase, award: "left" }]);
    expect(edited(text, set(0, { path: ["award"], value: undefined }))).toBe(boutText([phrase]));
  });

  test("moves when its new time passes its neighbour's", () => {
    const text = boutText([note("0:00:01.000", "a"), note("0:00:03.000", "b")]);
    expect(edited(text, set(0, { path: ["at"], value: "0:00:05.000" }))).toBe(
      boutText([note("0:00:03.000", "b"), note("0:00:05.000", "a")]),
    );
  });

  test("keeps fields the schema doesn't know", () => {
    const text = boutText([{ ...phrase, mood: "calm" }]);
    expect(edited(text, set(0, { path: ["award"], value: "left" }))).toContain('"mood": "calm"');
  });

  test("of a key written twice changes the one that counts", () => {
    const text = boutText([phrase]).replace('"actions"', '"award": "left", "award": "right", "actions"');
    const after = edited(text, set(0, { path: ["award"], value: "none" }));
    expect(after).toContain('"award": "left", "award": "none"');
  });
});

describe("a deleted entry", () => {
  test("takes its line along and nothing else", () => {
    const entries = [note("0:00:01.000"), note("0:00:02.000"), note("0:00:03.000")];
    for (const index of [0, 1, 2])
      expect(edited(boutText(entries), { do: "delete", index })).toBe(
        boutText(entries.filter((_, at) => at !== index)),
      );
  });
});

describe("a file that can't be edited safely", () => {
  test("is left alone when it is not JSON", () => {
    const result = editBout(scanBout('{ "log": [ }'), { do: "insert", entry: note("0:00:01.000") });
    expect(result).toMatchObject({ ok: false, problem: { why: "not-editable" } });
  });

  test("is left alone when it has no log", () => {
    const result = editBout(scanBout('{ "boutline": 1 }'), { do: "insert", entry: note("0:00:01.000") });
    expect(result).toMatchObject({ ok: false, problem: { why: "not-editable" } });
  });

  test("is left alone when the entry is gone", () => {
    const result = editBout(scanBout(boutText([])), { do: "delete", index: 3 });
    expect(result).toMatchObject({ ok: false, problem: { why: "no-such-entry" } });
  });
});

describe("for any valid bout in any hand formatting", () => {
  const rest = (entries: readonly unknown[], index: number) => entries.filter((_, at) => at !== index);
  const pieces = (text: string) => {
    const { stretches } = scanBout(text);
    return stretches.map(({ offset, length }) => text.slice(offset, offset + length));
  };
  const kept = (after: string, comments: readonly string[]) => {
    let from = 0;
    for (const comment of comments) {
      const found = after.indexOf(comment, from);
      expect(found, `${comment} is lost from ${after}`).toBeGreaterThanOrEqual(0);
      from = found + comment.length;
    }
  };

  test("an insertion reads back as the bout meant, in time order, every other entry byte for byte the same", () => {
    fc.assert(
      fc.property(anyBout, anyEntry, ({ text, comments }, entry) => {
        const before = readBout(text);
        const result = editBout(before.scan, { do: "insert", entry });
        if (!result.ok) throw new Error(result.problem.message);
        const { text: after, index, scan } = result.value;
        expect(scan).toEqual(scanBout(after));
        const reading = readBout(after);
        expect(reading.problems.filter((problem) => problem.severity === "error")).toEqual([]);
        expect(reading.scan.entries[index]).toEqual(entry);
        expect(rest(pieces(after), index)).toEqual(pieces(text));
        const times = reading.scan.entries.map((raw) =>
          writtenTime(raw as Record<string, Json>).padStart(16, "0"),
        );
        expect(times).toEqual(times.toSorted());
        expect(after.startsWith("\uFEFF")).toBe(text.startsWith("\uFEFF"));
        expect(/[^\r]\n/.test(after)).toBe(/[^\r]\n/.test(text));
        kept(after, comments);
      }),
      { numRuns: 600 },
    );
  });

  test("a deletion takes that entry and no other, and no comment", () => {
    fc.assert(
      fc.property(anyBout, fc.nat(), ({ text, entries, comments }, pick) => {
        fc.pre(entries.length > 0);
        const index = pick % entries.length;
        const result = editBout(scanBout(text), { do: "delete", index });
        if (!result.ok) throw new Error(result.problem.message);
        expect(result.value.scan).toEqual(scanBout(result.value.text));
        expect(pieces(result.value.text)).toEqual(rest(pieces(text), index));
        kept(result.value.text, comments);
      }),
      { numRuns: 600 },
    );
  });

  const field: fc.Arbitrary<FieldChange> = fc.oneof(
    fc.record({
      path: fc.constant(["award"]),
      value: fc.option(fc.constantFrom(...awards), { nil: undefined }),
    }),
    fc.record({ path: fc.constant(["note"]), value: fc.option(fc.string(), { nil: undefined }) }),
    fc.record({ path: fc.constant(["star"]), value: fc.option(fc.boolean(), { nil: undefined }) }),
    fc.record({
      path: fc.constant(["lamps", "left"]),
      value: fc.constantFrom("valid", "off-target", undefined),
    }),
    fc.record({
      path: fc.constant(["actions"]),
      value: fc.array(fc.constantFrom(...actionWords), { maxLength: 3 }),
    }),
    fc.record({
      path: fc.constant(["start"]),
      value: fc.constantFrom("0:00:00.000", "0:30:00.000", "0:59:00.040"),
    }),
  );
  test("a change of fields reads back as meant and moves the entry only when its time does", () => {
    fc.assert(
      fc.property(
        anyBout,
        fc.nat(),
        fc.array(field, { minLength: 1, maxLength: 3 }),
        ({ text, comments }, pick, fields) => {
          const before = scanBout(text);
          const phrases = before.entries.flatMap((raw, at) =>
            (raw as { kind: string }).kind === "phrase" ? [at] : [],
          );
          fc.pre(phrases.length > 0);
          const index = phrases[pick % phrases.length] ?? 0;
          const result = editBout(before, { do: "change", index, fields });
          if (!result.ok) throw new Error(result.problem.message);
          const { text: after, index: place, scan } = result.value;
          expect(scan).toEqual(scanBout(after));
          expect(rest(pieces(after), place)).toEqual(rest(pieces(text), index));
          const raw = scanBout(after).entries[place] as Record<string, unknown>;
          for (const { path, value } of fields.filter(
            (one, at) => !fields.slice(at + 1).some((later) => later.path[0] === one.path[0]),
          ))
            if (path.length === 1) expect(raw[String(path[0])]).toEqual(value);
          for (const comment of comments) expect(after).toContain(comment);
        },
      ),
      { numRuns: 600 },
    );
  });
});
