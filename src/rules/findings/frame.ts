// The frame of the bout: periods and their length, the sabre break, the draw, the end, and what comes after it.

import { opponent } from "../../bout/words";
import type { FormatRules } from "../edition";
import type { Row, State } from "../rows";
import { byOwnFormat, nameOf, relatedTo, scoreText, type Check, type Doubt, type RowOf } from "./check";
import type { Past } from "./past";

/** Seconds by which tagged halts may lag behind the clock before a period counts as too long. */
const allowance = 3;

function formatOf({ ledger }: Past): FormatRules {
  return ledger.edition.formats[ledger.bout.about.format];
}

export const periodTooLong: Check<"phrase"> = (row, past, report) => {
  const { period } = row.state;
  const format = formatOf(past);
  const limit = period === "extra" ? format.extraSeconds : format.periodSeconds;
  if (limit.value === null) return;
  const most = (limit.value + allowance) * 1000;
  const fenced = row.state.fencingInPeriod - past.beforeUnrecorded;
  if (row.before.fencingInPeriod - past.beforeUnrecorded > most || fenced <= most) return;
  const name = period === "extra" ? "the extra minute" : `period ${period}`;
  report(row, {
    rule: "period-too-long",
    severity: "warning",
    message: `with this phrase ${name} has ${(fenced / 1000).toFixed(1)} s of fencing; it ends at ${limit.value} s. Look for a halt that is too late, or add the entry of the next period`,
    from: limit,
  });
};

export const periodOutOfTurn: Check<"period"> = (row, past, report) => {
  const { periods, extraSeconds } = formatOf(past);
  const { number } = row.entry;
  if (periods.value === null || row.before.ended !== null) return;
  const tell = (message: string, from: Doubt["from"]) =>
    report(row, { rule: "period-out-of-turn", severity: "warning", message, from });
  if (number === "extra") {
    const { score } = row.before;
    if (score[0] !== score[1])
      tell(
        `the extra minute is fenced at a level score only, and it is ${scoreText(score)}; look for a touch above, or correct this entry`,
        extraSeconds,
      );
    else if (row.before.period === "extra") {
      if (row.before.fencingInPeriod > 0)
        tell(
          "there is one extra minute at most, and this is the second; correct one of the two",
          extraSeconds,
        );
    } else if (past.periodKnown && row.before.period < periods.value)
      tell(
        `the extra minute comes after period ${periods.value}, and this is only period ${row.before.period}`,
        periods,
      );
    return;
  }
  if (number > periods.value) {
    tell(
      `a bout of the format "${past.ledger.bout.about.format}" has ${periods.value === 1 ? "one period" : `${periods.value} periods`}, and this is number ${number}`,
      periods,
    );
    return;
  }
  if (!past.periodKnown || (number === 1 && row.before.period === 1 && row.before.fencing === 0)) return;
  const before = row.before.period;
  if (before === "extra" || number !== before + 1)
    tell(
      `period ${number} follows ${before === "extra" ? "the extra minute" : `period ${before}`}; look for a period entry that is missing or has the wrong number`,
      byOwnFormat,
    );
};

export const missingSabreBreak: Check<"phrase"> = (row, past, report) => {
  const { sabreBreak } = formatOf(past);
  const { score, period } = row.before;
  if (past.ledger.bout.about.weapon !== "sabre" || sabreBreak.value === null || period !== 1) return;
  if (Math.max(...score) < sabreBreak.value || !past.periodKnown || !row.phrase.counts) return;
  if (!past.first("missing-sabre-break")) return;
  report(row, {
    rule: "missing-sabre-break",
    severity: "warning",
    message: `at ${scoreText(score)} the first period of a sabre bout ends, at ${sabreBreak.value} touches; add the entry of period 2 above this phrase`,
    from: sabreBreak,
    related: relatedTo(past.phrase, `the score is ${scoreText(score)} from here on`),
  });
};

/** Told at the entry of the extra minute, as soon as fencing goes on or the bout ends without lots drawn. */
export const missingDraw: Check<"phrase" | "end"> = (row, past, report) => {
  const rule = past.ledger.edition.extraMinuteDraw;
  if (!rule.value || !past.drawKnown || past.draw !== undefined || row.before.ended !== null) return;
  const extra = past.extraMinute;
  const byLots = row.kind === "end" && row.entry.by === "priority";
  if ((extra === undefined && !byLots) || !past.first("missing-draw")) return;
  report(extra ?? row, {
    rule: "missing-draw",
    severity: "warning",
    message: `lots for priority are drawn before the extra minute, and ${
      byLots ? "the bout ends by priority, but no draw is written" : "none are written before it is fenced"
    }; add the draw with the side it fell to`,
    from: rule,
    related: extra === undefined ? undefined : relatedTo(row, "the bout goes on here"),
  });
};

export const endAgainstScore: Check<"end"> = (row, past, report) => {
  if (row.before.ended !== null) return;
  const doubt = endDoubt(row, past);
  if (doubt !== undefined)
    report(row, { rule: "end-against-score", severity: "warning", from: doubt.from, message: doubt.message });
};

function endDoubt(row: RowOf<"end">, past: Past): Pick<Doubt, "message" | "from"> | undefined {
  const { by, winner } = row.entry;
  const { score, priority } = row.before;
  const { touches, extraSeconds } = formatOf(past);
  const [left, right] = score;
  const ahead = left > right ? "left" : right > left ? "right" : undefined;
  const told = (side: "left" | "right") => nameOf(past.ledger, side);
  switch (by) {
    case "touches":
      if (touches.value !== null && Math.max(left, right) < touches.value)
        return {
          message: `the bout ends by touches at ${scoreText(score)}, but it takes ${touches.value}; look for a missing touch above, or correct how it ended`,
          from: touches,
        };
      break;
    case "time":
    case "deciding touch":
      if (ahead === undefined && touches.value !== null)
        return {
          message: `the bout ends by ${by} at ${scoreText(score)}, but at a level score an extra minute follows; look for a touch above, or correct how it ended`,
          from: extraSeconds,
        };
      break;
    case "priority":
      if (ahead !== undefined)
        return {
          message: `priority decides at a level score only, and it is ${scoreText(score)}; correct how the bout ended, or look for a touch above`,
          from: { source: "FIE t.38.2.c, t.40.4" },
        };
      if (winner !== undefined && priority !== null && winner !== priority)
        return {
          message: `lots gave priority to ${told(priority)}, but ${told(winner)} is written as the winner`,
          from: { source: "FIE t.38.2.b, t.40.3" },
        };
      return undefined;
    case "exclusion":
    case "P-black":
      return cardedEnd(by, row, past);
    case "withdrawal":
    case "chair failure":
      return undefined;
  }
  if (winner === undefined || ahead === undefined || winner === ahead) return undefined;
  return {
    message: `${told(winner)} is written as the winner, but ${told(ahead)} is ahead, ${scoreText(score)}; correct the winner, or look for a touch above`,
    from: touches,
  };
}

function cardedEnd(
  by: "exclusion" | "P-black",
  { entry }: RowOf<"end">,
  { accounts, ledger }: Past,
): Pick<Doubt, "message" | "from"> | undefined {
  const colour = by === "exclusion" ? "black" : "P-black";
  const from = by === "exclusion" ? { source: "FIE t.159, t.162" } : ledger.edition.unwillingness;
  const carded = (["left", "right"] as const).filter((side) => accounts[side].first.has(colour));
  const [only] = carded;
  if (only === undefined)
    return accounts.left.known && accounts.right.known
      ? { message: `the bout ends by ${by}, but no ${colour} card is written above; add the card`, from }
      : undefined;
  if (carded.length === 2 || entry.winner === undefined || entry.winner === opponent(only)) return undefined;
  return {
    message: `${nameOf(ledger, only)} got the ${colour} card, so the other fencer wins; correct the winner`,
    from,
  };
}

/** Once it has ended a bout can't be opened again, not even for a mistake of form. */
const notOpenedAgain = { source: "FIE t.37.3" };

export const phraseAfterEnd: Check<"phrase"> = (row, past, report) => {
  if (row.phrase.counts) return;
  report(row, {
    rule: "phrase-after-end",
    severity: "error",
    message: `the bout ended at ${ended(row.before, past)?.record.at ?? "an earlier entry"}; this phrase comes later and is not counted; correct one of the two times, or delete the end`,
    from: notOpenedAgain,
    related: relatedTo(ended(row.before, past), "the end of the bout"),
  });
};

/** All that would change the score or the frame of the bout. A black card may be shown after the end, at the salute. */
export const entryAfterEnd: Check<
  "review" | "card" | "correction" | "opening" | "gap" | "period" | "draw" | "end"
> = (row, past, report) => {
  if (row.before.ended === null || (row.kind === "card" && row.entry.card === "black")) return;
  report(row, {
    rule: "entry-after-end",
    severity: "warning",
    message: `the bout ended at ${ended(row.before, past)?.record.at ?? "an earlier entry"}; this ${row.kind} comes later and is not counted`,
    from: notOpenedAgain,
    related: relatedTo(ended(row.before, past), "the end of the bout"),
  });
};

function ended({ ended: entry }: State, { ledger }: Past): Row | undefined {
  return entry === null ? undefined : ledger.byEntry[entry];
}
