// Cards the rules do not know in this place: the wrong colour for what the fencer holds or did, or no consequence.

import { sidesOf, weaponName, type CardColour, type Side } from "../../bout/words";
import { offenceNamed, type GroupNumber, type Offence } from "../edition";
import { hasTouch } from "../phrases";
import type { Row } from "../rows";
import { byOwnFormat, fromBoth, nameOf, relatedTo, type Check, type Doubt, type RowOf } from "./check";
import { firstConduct, type Account, type Past } from "./past";

/** The offence behind a card of conduct: named in the edition, or told by its group. */
interface Cause {
  readonly offence: Offence | undefined;
  readonly group: GroupNumber | undefined;
}

function causeOf({ entry }: RowOf<"card">, { ledger }: Past): Cause {
  const offence = offenceNamed(ledger.edition, entry.for);
  return { offence, group: offence?.group ?? (entry.group as GroupNumber | undefined) };
}

export const cardColour: Check<"card"> = (row, past, report) => {
  const { card, to } = row.entry;
  if (card.startsWith("P-")) return;
  const cause = causeOf(row, past);
  // A card for people off the piste is none of the fencer's (FIE t.168, t.132.2).
  if (cause.offence?.offPiste === true) return;
  for (const side of sidesOf(to)) {
    const doubt = colourDoubt(card, side, cause, past);
    if (doubt !== undefined) report(row, doubt);
  }
};

function colourDoubt(card: CardColour, side: Side, cause: Cause, past: Past): Doubt | undefined {
  const account = past.accounts[side];
  if (card === "yellow") {
    const doubt = yellowDoubt(side, cause, account, past);
    if (doubt !== undefined) return doubt;
  }
  if (cause.group !== undefined) return groupDoubt(card, side, cause.group, cause.offence, account, past);
  if (card !== "red" || !account.known || firstConduct(account) !== undefined) return undefined;
  return {
    rule: "red-without-cause",
    severity: "warning",
    message: `${nameOf(past.ledger, side)} gets a red card without any card before it, and no offence is written that is red at once; write what it was for, or its group, or look for a yellow card above`,
    from: past.ledger.edition.groups[1],
  };
}

/** Yellow is the first card of group 1, so nobody gets it who holds a card (FIE t.165, t.162.2). */
function yellowDoubt(side: Side, cause: Cause, account: Account, { ledger }: Past): Doubt | undefined {
  if (cause.group === 3 && cause.offence === undefined) return undefined;
  const from = ledger.edition.groups[1];
  const red = account.first.get("red") ?? account.first.get("black");
  if (red !== undefined)
    return {
      rule: "yellow-after-red",
      severity: "warning",
      message: `${nameOf(ledger, side)} holds a red card, and only red or black can follow it; correct the card or an earlier one`,
      from,
      related: relatedTo(red, "the red card held"),
    };
  const yellow = account.first.get("yellow");
  if (yellow === undefined) return undefined;
  return {
    rule: "second-yellow",
    severity: "warning",
    message: `${nameOf(ledger, side)} holds a yellow card already, so the next one of group 1 is red; correct the card or an earlier one`,
    from,
    related: relatedTo(yellow, "the first yellow card"),
  };
}

function groupDoubt(
  card: CardColour,
  side: Side,
  group: GroupNumber,
  offence: Offence | undefined,
  account: Account,
  { ledger }: Past,
): Doubt | undefined {
  const rule = ledger.edition.groups[group];
  const before = rule.repeats === "card held" ? firstConduct(account) : account.groups.get(group);
  const expected = before === undefined ? rule.first : rule.again;
  if (card === expected || (card === "black" && offence?.mayExclude === true)) return undefined;
  // Group 3 in free words: yellow if by a person off the piste, and black at once in grave cases (FIE t.168, t.108.2).
  if (group === 3 && offence === undefined && card !== "red") return undefined;
  // Cards from a part that was not recorded may explain it.
  if (!account.known && (card === rule.first || card === rule.again)) return undefined;
  const what = offence === undefined ? `an offence of group ${group}` : `"${offence.name}" (group ${group})`;
  const from = offence === undefined ? rule : fromBoth(rule, offence);
  const name = nameOf(ledger, side);
  if (card === "red" && group === 1 && before === undefined)
    return {
      rule: "red-without-cause",
      severity: "warning",
      message: `${what} is yellow the first time, and no card of ${name} stands above this red one; look for a yellow card above, or correct the card or the offence`,
      from,
    };
  return {
    rule: "card-against-group",
    severity: "warning",
    message: `for ${what} ${name} gets ${expected} ${
      before === undefined ? "the first time" : "after the one before"
    }, not ${card}; correct the card or the offence`,
    from,
    related: relatedTo(before, rule.repeats === "card held" ? "the card held" : "the earlier offence"),
  };
}

export const offenceWords: Check<"card"> = (row, past, report) => {
  const { entry } = row;
  const words = entry.for?.trim();
  if (words === undefined || words === "" || entry.card.startsWith("P-")) return;
  const { edition, bout } = past.ledger;
  const offence = offenceNamed(edition, words);
  if (offence === undefined) {
    report(row, {
      rule: "free-text-offence",
      severity: "note",
      message: `"${words}" is no offence of ${edition.title}, so ${
        entry.group === undefined
          ? "its card can't be checked; write its group, or"
          : "only its group is checked;"
      } use the edition's words if one fits`,
      from: byOwnFormat,
    });
    return;
  }
  if (offence.weapons !== undefined && !offence.weapons.includes(bout.about.weapon))
    report(row, {
      rule: "offence-of-another-weapon",
      severity: "warning",
      message: `"${offence.name}" is an offence at ${offence.weapons.map(weaponName).join(" and ")} only, and this bout is ${weaponName(bout.about.weapon)}; correct the offence`,
      from: offence,
    });
  if (offence.standing === true && edition.seated.value)
    report(row, {
      rule: "standing-offence",
      severity: "note",
      message: `"${offence.name}" can't happen in a chair that is fixed to its frame; correct the offence`,
      from: fromBoth(offence, edition.seated),
    });
};

/** An offence that annuls takes the offender's touch away, if the two belong together; only the referee knew that. */
export const touchNotAnnulled: Check<"card"> = (row, past, report) => {
  const { edition } = past.ledger;
  const { offence } = causeOf(row, past);
  const { phrase } = past;
  if (offence?.annuls !== true || !edition.annulment.value || phrase?.phrase.counts !== true) return;
  for (const side of sidesOf(row.entry.to)) {
    if (!hasTouch(phrase.phrase.stands, side)) continue;
    report(row, {
      rule: "touch-not-annulled",
      severity: "note",
      message: `"${offence.name}" annuls the touch its offender scores by it, and the touch of ${nameOf(past.ledger, side)} in phrase ${phrase.phrase.number} stands; if it came from the offence, write it as annulled`,
      from: fromBoth(edition.annulment, offence),
      related: relatedTo(phrase, "the phrase with the touch"),
    });
  }
};

/** Nobody fences on after a black card (FIE t.162, t.159), or after P-black, which loses the bout (FIE t.124). */
export const fencingAfterBlack: Check<"phrase"> = (row, past, report) => {
  if (!row.phrase.counts || row.entry.play === false) return;
  for (const side of ["left", "right"] as const)
    for (const colour of ["black", "P-black"] as const) {
      const card = past.accounts[side].first.get(colour);
      if (card === undefined || !past.first(`${colour} ${side}`)) continue;
      report(row, blackDoubt(side, colour, card, past));
    }
};

function blackDoubt(side: Side, colour: "black" | "P-black", card: Row, { ledger }: Past): Doubt {
  return {
    rule: "fencing-after-black",
    severity: "warning",
    message: `${nameOf(ledger, side)} got a ${colour} card at ${card.record.at}, which ends the bout, yet fencing goes on; correct the card, or look for the end`,
    from: colour === "black" ? { source: "FIE t.159, t.162" } : ledger.edition.unwillingness,
    related: relatedTo(card, `the ${colour} card`),
  };
}
