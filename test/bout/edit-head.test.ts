import { expect, it } from "vitest";
import { applyEdits, type FieldChange } from "../../src/bout/edit";
import { editHead } from "../../src/bout/edit-head";
import { scanBout } from "../../src/bout/scan";

const text = `// Kept as it is.
{
  "boutline": 1,
  "bout": { "weapon": "foil", "format": "pool", "rules": "wheelchair-2026" }, // and this
  "fencers": {
    "left":  { "name": "Vessa Tarn" },
    "right": { "name": "Kel Odrey", "id": "odrey" },
  },
  "recordings": [ { "file": "one.mp4", "offset": 0.5 }, /* the other */ { "file": "two.mp4" } ],
  "log": [
    { "kind": "note", "at": "0:00:01.000", "text": "\\u0041" },
  ]
}
`;

function edited(before: string, fields: readonly FieldChange[]): string {
  const result = editHead(scanBout(before), fields);
  if (!result.ok) throw new Error(result.problem.message);
  const after = applyEdits(before, result.value.edits);
  expect(result.value.scan.text).toBe(after);
  return after;
}

it("Another file of a recording changes its name alone", () => {
  const after = edited(text, [{ path: ["recordings", 1, "file"], value: 'a "b"/two.mp4' }]);
  expect(after).toBe(text.replace('"two.mp4"', '"a \\"b\\"/two.mp4"'));
});

it("Several fields are changed at once, a missing one goes behind the others", () => {
  const after = edited(text, [
    { path: ["recordings", 0, "file"], value: "three.mp4" },
    { path: ["fencers", "left", "id"], value: "tarn" },
    { path: ["fencers", "right", "id"], value: "ko" },
  ]);
  expect(after).toBe(
    text
      .replace('"one.mp4"', '"three.mp4"')
      .replace('"name": "Vessa Tarn"', '"name": "Vessa Tarn", "id": "tarn"')
      .replace('"odrey"', '"ko"'),
  );
});

it("The mark at the start of a file stays where it is", () => {
  const marked = `\uFEFF${text}`;
  expect(edited(marked, [{ path: ["recordings", 0, "file"], value: "x.mp4" }])).toBe(
    marked.replace('"one.mp4"', '"x.mp4"'),
  );
});

it("Of two equal keys the last one is changed, which is the one that counts", () => {
  const twice = text.replace('"file": "one.mp4"', '"file": "old.mp4", "file": "one.mp4"');
  expect(edited(twice, [{ path: ["recordings", 0, "file"], value: "x.mp4" }])).toBe(
    twice.replace('"one.mp4"', '"x.mp4"'),
  );
});

it("A file with mistakes, a place that is not there and the log itself are left alone", () => {
  const why = (before: string, field: FieldChange) => {
    const result = editHead(scanBout(before), [field]);
    return result.ok ? "edited" : result.problem.why;
  };
  const field = { path: ["recordings", 0, "file"], value: "x.mp4" };
  expect(why(text.replace('"log": [', '"log": [ {'), field)).toBe("not-editable");
  expect(why(text, { path: ["recordings", 5, "file"], value: "x.mp4" })).toBe("not-as-meant");
  expect(why(text, { path: ["log", 0, "text"], value: "x" })).toBe("not-as-meant");
});
