// Touches and scores that contradict the weapon, the lamps or the scoreboard.

import { sides, type Standing } from "../../bout/words";
import { hasTouch, lampLit } from "../phrases";
import { nameOf, ownFormat, scoreText, type Check, type Doubt } from "./check";

export const twoTouches: Check = (row, { ledger: { edition, bout } }) => {
  const award = row.kind === "phrase" || row.kind === "review" ? row.entry.award : undefined;
  const { weapon } = bout.about;
  if (award !== "both" || edition.doubles[weapon].value === "one each") return undefined;
  return {
    rule: "two-touches",
    severity: "error",
    message: `both fencers get a touch here; at ${weapon} a phrase gives one touch at most; correct the award`,
    source: edition.doubles[weapon].source,
  };
};

export const awardWithoutLamp: Check = (row, { ledger }) => {
  if (row.kind === "phrase") return unlit(row.entry.award, row.entry, ledger);
  if (row.kind !== "review" || row.of === null || row.stands === row.stood) return undefined;
  const phrase = ledger.byEntry[row.of];
  return phrase?.kind === "phrase" ? unlit(row.stands ?? undefined, phrase.entry, ledger) : undefined;
};

function unlit(
  award: Standing | "pending" | undefined,
  phrase: Parameters<typeof lampLit>[0],
  ledger: Parameters<typeof nameOf>[0],
): Doubt | undefined {
  if (award === undefined || award === "pending") return undefined;
  const side = sides.find((side) => hasTouch(award, side) && lampLit(phrase, side, "valid") === false);
  if (side === undefined) return undefined;
  return {
    rule: "award-without-lamp",
    severity: "warning",
    message: `the touch goes to ${nameOf(ledger, side)}, but no valid lamp is written for ${side}; correct the lamps or the award`,
    source: "FIE t.54.2",
  };
}

export const boardDisagrees: Check = (row, { boardAhead }) => {
  if (row.kind !== "board") return undefined;
  const [left, right] = row.entry.score;
  const { score } = row.state;
  const ahead = [left - score[0], right - score[1]] as const;
  if (ahead[0] === 0 && ahead[1] === 0) return undefined;
  const still = boardAhead !== undefined && boardAhead[0] === ahead[0] && boardAhead[1] === ahead[1];
  return {
    rule: "board-disagrees",
    severity: still ? "note" : "warning",
    message: still
      ? `the board shows ${scoreText(row.entry.score)}, the log gives ${scoreText(score)}: the same difference as at the board before`
      : `the board shows ${scoreText(row.entry.score)}, the log gives ${scoreText(score)} here; look for a missing touch, card or correction above, or for a mistake of the board`,
    source: ownFormat,
  };
};
