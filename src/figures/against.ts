// What two bout files say of each other: how far two taggers agree where both tell of one bout, else what differs between
// two bouts.

import type { Study } from "../rules";
import { agreementOf, type Agreement } from "./agreement";
import { relationOf } from "./relation";
import { compareBouts, type BoutsCompared } from "./two-bouts";

export type RelationFound = ReturnType<typeof relationOf>;

/** `why` is a sentence for the reader. */
export type Against =
  | { readonly relation: "same bout"; readonly why: string; readonly agreement: Agreement }
  | { readonly relation: "two bouts"; readonly why: string; readonly compared: BoutsCompared };

/** `as`: what somebody says they are; left out, it is told from the files. */
export function againstOf(one: Study, other: Study, as?: RelationFound): Against {
  const { relation, why } = as ?? relationOf(one.bout, other.bout);
  return relation === "same bout"
    ? { relation, why, agreement: agreementOf(one.ledger, other.ledger) }
    : { relation, why, compared: compareBouts(one.ledger, other.ledger) };
}
