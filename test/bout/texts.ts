// Bout texts for tests: valid bouts in any hand formatting a person or an editor might leave.

import fc from "fast-check";
import { entryText, type Json } from "../../src/bout/edit";
import { formatTime, type Milliseconds } from "../../src/bout/time";
import * as words from "../../src/bout/words";

type Fields = Record<string, Json>;

const time = (max = 3_600_000) => fc.integer({ min: 0, max }).map((ms) => formatTime(ms as Milliseconds));
const score = fc.tuple(fc.nat(15), fc.nat(15));
const actionList = fc.array(fc.constantFrom(...words.actionWords), { maxLength: 4 });
const lamp = fc.oneof(
  fc.constantFrom(...words.lamps),
  fc.array(fc.constantFrom(...words.lamps), { maxLength: 2 }),
);
const point = fc.tuple(
  fc.double({ min: 0, max: 1, noNaN: true }),
  fc.double({ min: 0, max: 1, noNaN: true }),
);
const some = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });

const phrase = fc.record(
  {
    kind: fc.constant("phrase"),
    start: time(),
    halt: some(time()),
    play: some(fc.boolean()),
    actions: some(actionList),
    call: some(actionList),
    lamps: some(fc.record({ left: lamp, right: lamp }, { requiredKeys: [] })),
    award: some(fc.constantFrom(...words.awards)),
    because: some(fc.constantFrom(...words.reasonsForNone)),
    annulled: some(fc.constantFrom(...words.doers)),
    for: some(fc.constantFrom(...words.reasonsForAnnulment)),
    target: some(fc.string()),
    scored: some(fc.constantFrom(...words.scoringActions)),
    tags: some(fc.array(fc.string(), { maxLength: 3 })),
    sure: some(fc.boolean()),
    star: some(fc.boolean()),
    note: some(fc.string()),
    confirmed: some(fc.boolean()),
  },
  { requiredKeys: ["kind", "start"] },
);
const at = (kind: string, fields: Record<string, fc.Arbitrary<unknown>>) =>
  fc.record({ kind: fc.constant(kind), at: time(), ...fields });

/** Any entry the format allows, as written. */
export const anyEntry: fc.Arbitrary<Fields & { kind: string }> = fc
  .oneof(
    { weight: 6, arbitrary: phrase },
    at("review", {
      by: fc.constantFrom(...words.reviewers),
      result: fc.constantFrom(...words.reviewResults),
      award: fc.constantFrom("left", "right", "both", "none"),
      appeal: some(fc.constantFrom("kept", "lost")),
    }),
    at("card", {
      to: fc.constantFrom(...words.doers),
      card: fc.constantFrom(...words.cardColours),
      for: some(fc.string()),
      group: some(fc.integer({ min: 1, max: 4 })),
    }),
    at("stop", {
      for: fc.oneof(
        fc.constantFrom(...words.stopReasons),
        fc.array(fc.constantFrom(...words.stopReasons), { minLength: 1, maxLength: 3 }),
      ),
      until: some(time()),
      by: some(fc.constantFrom(...words.stoppers)),
    }),
    at("board", { score, clock: some(fc.string()) }),
    at("correction", { score, for: some(fc.string()) }),
    at("opening", { score, appeals: some(score), period: some(fc.constantFrom(...words.periodNumbers)) }),
    at("gap", {
      score,
      until: some(time()),
      cards: some(fc.record({ left: fc.array(fc.constantFrom(...words.cardColours), { maxLength: 2 }) })),
    }),
    at("period", { number: fc.constantFrom(...words.periodNumbers) }),
    at("draw", { to: some(fc.constantFrom(...words.sides)) }),
    at("end", { by: fc.constantFrom(...words.endings), winner: some(fc.constantFrom(...words.sides)) }),
    at("shot", { name: fc.constantFrom("main", "close", "replay") }),
    at("fit", {
      points: fc.array(fc.record({ image: point, floor: point }), { minLength: 2, maxLength: 6 }),
    }),
    at("platforms", { left: some(fc.tuple(point, point)), right: some(fc.tuple(point, point)) }),
    at("distance", { reference: some(fc.constantFrom(...words.sides)), change: some(fc.integer()) }),
    at("note", { text: some(fc.string()) }),
  )
  .map((entry) => JSON.parse(JSON.stringify(entry)) as Fields & { kind: string });

export function writtenTime(entry: Fields): string {
  const written = entry["kind"] === "phrase" ? entry["start"] : entry["at"];
  return typeof written === "string" ? written : "";
}

const byTime = (one: Fields, other: Fields) => {
  const key = (entry: Fields) => writtenTime(entry).padStart(16, "0");
  return key(one) < key(other) ? -1 : key(one) > key(other) ? 1 : 0;
};

export const header = `"boutline": 1,
  "bout": { "weapon": "foil", "format": "elimination", "rules": "fie-2026" },
  "fencers": { "left": { "name": "Ada" }, "right": { "name": "Bo" } },
  "recordings": [],`;

/** A whole bout file with these log lines, laid out plainly. */
export function boutText(entries: readonly Json[]): string {
  const lines = entries.map((entry) => `    ${entryText(entry)}`).join(",\n");
  return `{\n  ${header}\n  "log": [${lines === "" ? "" : `\n${lines}\n  `}]\n}\n`;
}

interface Layout {
  lineEnd: "\n" | "\r\n";
  bom: boolean;
  trailingComma: boolean;
  entryStyle: "lines" | "one line" | "wrapped" | "tight";
  comments: readonly string[];
}
const layout: fc.Arbitrary<Layout> = fc.record({
  lineEnd: fc.constantFrom("\n" as const, "\r\n" as const),
  bom: fc.boolean(),
  trailingComma: fc.boolean(),
  entryStyle: fc.constantFrom("lines" as const, "one line" as const, "wrapped" as const, "tight" as const),
  comments: fc.array(
    fc.constantFrom("", "", " // a word, with } and ]", " /* kept, { */", "\n    // above\n"),
    {
      maxLength: 12,
    },
  ),
});

export interface LaidOut {
  readonly text: string;
  readonly entries: readonly (Fields & { kind: string })[];
  readonly comments: readonly string[];
}

/** A valid bout in time order, in some hand formatting. */
export const anyBout: fc.Arbitrary<LaidOut> = fc
  .tuple(fc.array(anyEntry, { maxLength: 8 }), layout)
  .map(([list, style]) => {
    const entries = list.toSorted(byTime);
    let next = 0;
    const used: string[] = [];
    const comment = () => {
      const words = style.comments[next++ % Math.max(1, style.comments.length)] ?? "";
      // A line comment would swallow what follows on the same line.
      const safe =
        style.entryStyle === "one line" || style.entryStyle === "tight"
          ? words.includes("//")
            ? ""
            : words
          : words;
      if (safe.trim() !== "") used.push(safe.trim());
      return safe;
    };
    const written = entries.map((entry) => {
      const plain = style.entryStyle === "tight" ? JSON.stringify(entry) : entryText(entry);
      return style.entryStyle === "wrapped" ? JSON.stringify(entry, undefined, 2) : plain;
    });
    const separate = style.entryStyle === "one line" || style.entryStyle === "tight" ? " " : "\n    ";
    let log = comment();
    written.forEach((entry, index) => {
      const last = index === written.length - 1;
      log += `${separate}${entry}${!last || style.trailingComma ? "," : ""}${comment()}`;
    });
    if (separate !== " ") log += "\n  ";
    const text = `{\n  ${header}\n  "log": [${log}]\n} // end\n`.replaceAll("\n", style.lineEnd);
    return {
      text: (style.bom ? "\uFEFF" : "") + text,
      entries,
      comments: used.map((words) => words.replaceAll("\n", style.lineEnd)),
    };
  });
