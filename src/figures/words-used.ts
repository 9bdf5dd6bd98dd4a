// What stands in the coach's own words: targets and tags, counted under the words as written.

import * as z from "zod";
import { parse, type ParseError } from "jsonc-parser";
import { failure, success, type Result } from "../bout/result";
import { sides, type Family, type Side } from "../bout/words";
import type { TagTable, TargetTable } from "./model";
import { familyScored } from "./opened";
import { entriesOf, type CountedPhrase } from "./phrases";
import { wilson } from "./rates";
import { hasTouch } from "../rules";

export function targetTable(phrases: readonly CountedPhrase[], side: Side): TargetTable {
  const touches = phrases.filter(({ row }) => hasTouch(row.phrase.stands, side));
  const groups = new Map<string, CountedPhrase[]>();
  for (const phrase of touches) add(groups, phrase.row.entry.target, phrase);
  const given = [...groups.values()].flat();
  const rows = [...groups].map(([target, hit]) => {
    const byFamily: Partial<Record<Family | "untagged", number[]>> = {};
    for (const { entry, row } of hit)
      (byFamily[familyScored(row.phrase.scoring[side]) ?? "untagged"] ??= []).push(entry);
    return { target, share: wilson(entriesOf(hit), given.length), byFamily };
  });
  return {
    given: wilson(inOrder(given), touches.length),
    rows: rows.sort((one, other) => other.share.count - one.share.count),
  };
}

export const tagDefinitionsSchema = z
  .record(z.string(), z.string())
  .describe('What the coach\'s own words mean: { "word": "meaning" }.');
export type TagDefinitions = Readonly<z.output<typeof tagDefinitionsSchema>>;

/** Reads a `tags.json`; comments are allowed. The problem is a sentence for the coach. */
export function readTagDefinitions(text: string): Result<TagDefinitions, string> {
  const errors: ParseError[] = [];
  const value: unknown = parse(text.replace(/^\uFEFF/, ""), errors, { allowTrailingComma: true });
  if (errors.length > 0) return failure("this is not JSON");
  const checked = tagDefinitionsSchema.safeParse(value);
  return checked.success
    ? success(checked.data)
    : failure('it must hold one group of words and meanings, { "word": "what it means" }');
}

export function tagTable(phrases: readonly CountedPhrase[], definitions: TagDefinitions): TagTable {
  const groups = new Map<string, CountedPhrase[]>();
  for (const phrase of phrases)
    for (const tag of new Set(phrase.row.entry.tags ?? [])) add(groups, tag, phrase);
  const rows = [...groups].map(([tag, tagged]) => {
    const [left, right] = sides.map((side) =>
      wilson(entriesOf(tagged.filter(({ row }) => hasTouch(row.phrase.stands, side))), tagged.length),
    );
    if (left === undefined || right === undefined) throw new Error("there are two sides");
    const definition = Object.hasOwn(definitions, tag) ? (definitions[tag] ?? null) : null;
    return { tag, definition, phrases: entriesOf(tagged), touches: { left, right } };
  });
  const used = phrases.filter(({ row }) => (row.entry.tags ?? []).some((tag) => tag.trim() !== ""));
  return {
    used: wilson(entriesOf(used), phrases.length),
    rows: rows.sort((one, other) => other.phrases.length - one.phrases.length),
  };
}

function add(groups: Map<string, CountedPhrase[]>, word: string | undefined, phrase: CountedPhrase): void {
  if (word === undefined || word.trim() === "") return;
  const group = groups.get(word);
  if (group === undefined) groups.set(word, [phrase]);
  else group.push(phrase);
}

function inOrder(phrases: readonly CountedPhrase[]): number[] {
  return phrases.map(({ entry }) => entry).sort((one, other) => one - other);
}
