// All sections of one bout's sheet, each worked out when it is first asked for.

import type { Ledger } from "../rules";
import { answerTable } from "./answers";
import { bothLampsOf } from "./both-lamps";
import { comparisonsOf, namesOf } from "./bout-tests";
import { flowOf } from "./flow";
import type { Figures } from "./model";
import { conversionOf, familyTable, forBoth, openedTable } from "./opened";
import { countedPhrases, entriesOf } from "./phrases";
import { reviewsOf } from "./reviews";
import { summaryOf } from "./summary";
import { tagTable, targetTable, type TagDefinitions } from "./words-used";

/** `definitions`: what the coach's own words mean. */
export function figuresOf(ledger: Ledger, definitions: TagDefinitions = {}): Figures {
  const phrases = once(() => countedPhrases(ledger));
  const figures: Figures = lazily<Figures>({
    phrases: () => entriesOf(phrases()),
    tagged: () => figures.conversion.told,
    opened: () => forBoth((side) => openedTable(phrases(), side)),
    families: () => forBoth((side) => familyTable(phrases(), side)),
    targets: () => forBoth((side) => targetTable(phrases(), side)),
    conversion: () => conversionOf(phrases()),
    answers: () => answerTable(phrases()),
    tags: () => tagTable(phrases(), definitions),
    bothLamps: () => bothLampsOf(phrases(), ledger.bout.about.weapon),
    reviews: () => reviewsOf(ledger, phrases()),
    flow: () => flowOf(ledger, phrases()),
    comparisons: () => {
      const { opened, families, conversion, bothLamps, reviews, flow } = figures;
      const compared = { opened, families, conversion, bothLamps, reviews, order: flow.order };
      return comparisonsOf(ledger, phrases(), compared);
    },
    summary: () => {
      const { phrases, tagged, comparisons, reviews, flow } = figures;
      return summaryOf(ledger, { names: namesOf(ledger), phrases, tagged, comparisons, reviews, flow });
    },
  });
  return figures;
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}

/** An object whose properties are worked out at their first reading. They are listed, so that it prints as JSON. */
function lazily<T extends object>(makers: { readonly [K in keyof T]: () => T[K] }): T {
  const target = {};
  for (const [name, make] of Object.entries<() => unknown>(makers))
    Object.defineProperty(target, name, { get: once(make), enumerable: true });
  return target as T;
}
