// The cards for unwillingness to fight, after a minute without a hit (FIE t.124).

import { sides, type Side } from "../../bout/words";
import type { Score } from "../rows";
import { nameOf, relatedTo, scoreText, type Check, type RowOf } from "./check";
import type { Past } from "./past";

/** Seconds by which tagged halts and commands may lie away from the clock. */
const allowance = 3;

/** Colour and side, by the steps of the edition. */
export const pCardOutOfStep: Check<"card"> = (row, past, report) => {
  const { card, to } = row.entry;
  if (!card.startsWith("P-")) return;
  const { unwillingness, title } = past.ledger.edition;
  const { steps } = unwillingness;
  const [first = "P-red"] = steps;
  const tell = (message: string) =>
    report(row, {
      rule: "p-card-out-of-step",
      severity: "warning",
      message,
      from: unwillingness,
      related: relatedTo(past.pCards.at(-1), "the P-card before"),
    });
  if (!steps.includes(card)) {
    tell(
      `${title} has no ${card} card; its steps are ${steps.join(", then ")}, one for each minute without a hit`,
    );
    return;
  }
  const given = past.pCards.length;
  const due = steps[Math.min(given, steps.length - 1)] ?? first;
  if (card !== due && bothKnown(past)) {
    tell(
      `the ${given === 0 ? "first" : "next"} P-card is ${due}, not ${card}: the steps are ${steps.join(", then ")}`,
    );
    return;
  }
  if (card !== "P-black") {
    if (to !== "both") tell(`a ${card} card goes to both fencers, not to ${to} alone`);
    return;
  }
  const loser = loserOf(row, past);
  if (loser !== undefined && to !== loser.side)
    tell(`a P-black card goes to ${nameOf(past.ledger, loser.side)}, who ${loser.why}`);
};

function bothKnown({ accounts }: Past): boolean {
  return accounts.left.known && accounts.right.known;
}

/** The lower score loses; at a level score the lower seed, which the file may not tell. */
function loserOf(
  { before }: RowOf<"card">,
  { ledger }: Past,
): { readonly side: Side; readonly why: string } | undefined {
  const [left, right] = before.score;
  if (left !== right)
    return { side: left < right ? "left" : "right", why: `has the lower score, ${scoreText(before.score)}` };
  const { fencers } = ledger.bout;
  const [ofLeft, ofRight] = [fencers.left.seed, fencers.right.seed];
  if (ofLeft === undefined || ofRight === undefined || ofLeft === ofRight) return undefined;
  return { side: ofLeft > ofRight ? "left" : "right", why: "has the lower place in the ranking" };
}

/** Too early, in a format without them, or when one touch decides. */
export const pCardNotDue: Check<"card"> = (row, past, report) => {
  const { card } = row.entry;
  if (!card.startsWith("P-")) return;
  const { edition, bout } = past.ledger;
  const { unwillingness } = edition;
  const tell = (message: string) =>
    report(row, { rule: "p-card-not-due", severity: "warning", message, from: unwillingness });
  if (!unwillingness.formats.includes(bout.about.format)) {
    tell(`there are no P-cards in a bout of the format "${bout.about.format}"`);
    return;
  }
  if (unwillingness.neverWhenOneTouchDecides && oneTouchDecides(row.before.score, past)) {
    tell(`there are no P-cards at ${scoreText(row.before.score)}, when one touch decides`);
    return;
  }
  const { known, atMost } = past.sinceHit;
  if (!known || atMost / 1000 >= unwillingness.seconds - allowance) return;
  tell(
    `only ${(atMost / 1000).toFixed(1)} s of fencing have passed without a hit, and a ${card} card comes after ${unwillingness.seconds} s; look for a phrase not tagged or a halt that is too early`,
  );
};

/** At the phrase that begins although a minute without a hit was full. */
export const pCardMissing: Check<"phrase"> = (row, past, report) => {
  const { edition, bout } = past.ledger;
  const { unwillingness } = edition;
  const { known, sure } = past.sinceHit;
  if (!known || sure / 1000 <= unwillingness.seconds + allowance || !row.phrase.counts) return;
  if (!unwillingness.formats.includes(bout.about.format) || row.entry.play === false) return;
  if (row.before.period === "extra") return;
  if (unwillingness.neverWhenOneTouchDecides && oneTouchDecides(row.before.score, past)) return;
  if (!past.first(`p-card-missing ${row.before.period} ${scoreText(row.before.score)} ${past.pCards.length}`))
    return;
  report(row, {
    rule: "p-card-missing",
    severity: "note",
    message: `${(sure / 1000).toFixed(1)} s of fencing have passed without a hit, and after ${unwillingness.seconds} s a P-card is due (${unwillingness.steps.join(", then ")}); none is written`,
    from: unwillingness,
    related: relatedTo(past.phrase, "the phrase above it"),
  });
};

function oneTouchDecides(score: Score, { ledger }: Past): boolean {
  const { value } = ledger.edition.formats[ledger.bout.about.format].touches;
  return value !== null && sides.every((_, index) => score[index as 0 | 1] === value - 1);
}
