import { expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import { offersAt, type Offers } from "../../src/host/completion";
import { studyOf } from "../../src/rules/index";
import { boutText, second } from "./bouts";

/** `|` is the cursor. */
function offers(entry: string, about: object = {}): (Offers & { readonly marked: string }) | undefined {
  const marked = boutText([], about).replace("[]", () => `[${entry}]`);
  const offset = marked.indexOf("|");
  const text = marked.replace("|", "");
  const reading = readBout(text);
  const study = studyOf(reading);
  if (study === undefined) throw new Error("this text holds no bout");
  const found = offersAt(reading, study, offset);
  if (found === undefined) return undefined;
  const { offset: from, length } = found.replaces;
  return { ...found, marked: text.slice(from, from + length) };
}

const words = (entry: string, about: object = {}) =>
  offers(entry, about)?.offers.map(({ text }) => text) ?? [];

const phraseWith = (fields: string) => `{"kind":"phrase","start":"${second(1)}",${fields}}`;
const cardFor = (value: string) =>
  `{"kind":"card","at":"${second(1)}","to":"left","card":"yellow","for":${value}}`;
const stopFor = (value: string) => `{"kind":"stop","at":"${second(1)}","for":${value}}`;

test("In a list of actions, those that can answer the one before come first", () => {
  expect(words(phraseWith('"actions":["|"]')).slice(0, 3)).toEqual([
    '"left attack"',
    '"right attack"',
    '"both attack"',
  ]);
  expect(words(phraseWith('"actions":["left attack","|"]'))[0]).toBe('"right parry"');
  expect(words(phraseWith('"actions":["left attack","right parry",|]'))[0]).toBe('"right riposte"');
  const long = '"actions":["left attack","right parry","right riposte","left parry","|"]';
  expect(words(phraseWith(long))[0]).toBe('"left counter-riposte"');
});

test("Every action is offered once", () => {
  const all = words(phraseWith('"actions":["left attack","|"]'));
  expect(new Set(all).size).toBe(all.length);
  expect(all).toHaveLength(3 * 20);
});

test("The referee's call, a review's and a panel's take the same words", () => {
  for (const entry of [
    phraseWith('"call":["|"]'),
    `{"kind":"review","at":"${second(1)}","by":"left","result":"kept","call":["|"]}`,
    phraseWith('"reference":[{"by":"R. O.","actions":["|"]}]'),
  ])
    expect(words(entry)[0], entry).toBe('"left attack"');
});

test("A card is offered the offences of the edition at this weapon, with what they cost", () => {
  const found = offers(cardFor('"|"'));
  expect(found?.marked).toBe('""');
  const offence = found?.offers.find(({ text }) => text === '"early start"');
  expect(offence?.detail).toBe("group 1: yellow, then red; check the book");
  expect(offence?.says).toMatch(/^Offence of group 1: .*annulled.*Source: .*Check the current book: /);
  expect(words(cardFor('"|"'))).not.toContain('"touch with the guard"');
  expect(words(cardFor('"|"'), { weapon: "sabre" })).toContain('"touch with the guard"');
  expect(words(cardFor('"|"'), { rules: "fie-2026" })).not.toContain('"early start"');
});

test("A stop is offered the reasons the edition knows, alone or in a list", () => {
  expect(words(stopFor('"|"'))).toContain('"re-centre"');
  expect(words(stopFor('["equipment","|"]'))).toContain('"re-centre"');
  const standing = words(stopFor('"|"'), { rules: "fie-2026" });
  expect(standing).not.toContain('"re-centre"');
  expect(standing).toContain('"equipment"');
});

test("Half-written words are replaced whole, and nothing is replaced where none is begun", () => {
  expect(offers(cardFor('"ear|ly"'))?.marked).toBe('"early"');
  expect(offers(phraseWith('"actions":[|]'))?.marked).toBe("");
});

test("Elsewhere nothing is offered beside what the schema offers", () => {
  for (const entry of [
    phraseWith('"aw|":1'),
    phraseWith('"award":"|"'),
    phraseWith('"annulled":"left","for":"|"'),
    phraseWith('"tags":["|"]'),
    '{"kind":"|"}',
    "|",
  ])
    expect(offers(entry), entry).toBeUndefined();
});

test("A text that breaks off while it is typed is offered words too", () => {
  const text = boutText([]).replace("[]}", `[{"kind":"card","at":"${second(1)}","to":"left","for":"`);
  const reading = readBout(text);
  const study = studyOf(reading);
  expect(study && offersAt(reading, study, text.length)?.offers.length).toBeGreaterThan(20);
});
