// Cards and reviews that the rules do not know in this place.

import { sidesOf } from "../../bout/words";
import { offenceNamed } from "../edition";
import { nameOf, ownFormat, type Check } from "./check";

/** FIE t.165: after a first yellow every further offence of group 1 is red. */
export const secondYellow: Check = (row, { ledger }) => {
  if (!isFencersYellow(row, ledger.edition)) return undefined;
  const side = sidesOf(row.entry.to).find(
    (side) => row.before.cards[side].includes("yellow") && !row.before.cards[side].includes("red"),
  );
  if (side === undefined) return undefined;
  return {
    rule: "second-yellow",
    severity: "warning",
    message: `${nameOf(ledger, side)} holds a yellow card already, so the next one of group 1 is red; correct the card or an earlier one`,
    source: ledger.edition.groups[1].source,
  };
};

/** FIE t.162.2: a red can be followed only by red or black. */
export const yellowAfterRed: Check = (row, { ledger }) => {
  if (!isFencersYellow(row, ledger.edition)) return undefined;
  const side = sidesOf(row.entry.to).find((side) => row.before.cards[side].includes("red"));
  if (side === undefined) return undefined;
  return {
    rule: "yellow-after-red",
    severity: "warning",
    message: `${nameOf(ledger, side)} holds a red card, and only red or black can follow it; correct the card or an earlier one`,
    source: ledger.edition.groups[1].source,
  };
};

/** A yellow for people off the piste is no card of the fencer's (FIE t.168, t.132.2). */
function isFencersYellow(
  row: Parameters<Check>[0],
  edition: Parameters<typeof offenceNamed>[0],
): row is Extract<Parameters<Check>[0], { kind: "card" }> {
  return (
    row.kind === "card" &&
    row.entry.card === "yellow" &&
    row.entry.group !== 3 &&
    offenceNamed(edition, row.entry.for)?.offPiste !== true
  );
}

export const appealWithNoneLeft: Check = (row, { ledger }) => {
  if (row.kind !== "review") return undefined;
  const { by } = row.entry;
  if ((by !== "left" && by !== "right") || row.before.appeals?.[by] !== 0) return undefined;
  const { appeals } = ledger.edition.formats[ledger.bout.about.format];
  return {
    rule: "appeal-with-none-left",
    severity: "warning",
    message: `${nameOf(ledger, by)} has no appeal left when asking for this review; correct who asked, or an earlier result`,
    source: appeals.source,
  };
};

export const reviewWithoutPhrase: Check = (row) =>
  row.kind === "review" && row.of === null
    ? {
        rule: "review-without-phrase",
        severity: "warning",
        message: "no phrase comes before this review, so it changes nothing; move it below its phrase",
        source: ownFormat,
      }
    : undefined;
