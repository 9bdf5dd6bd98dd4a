// Touches that contradict the weapon, the command or the lamps.

import { lamps, sides, weaponName, type Standing } from "../../bout/words";
import type { Ledger } from "../ledger";
import { hasTouch, lampLit } from "../phrases";
import type { PhraseRow, ReviewRow } from "../rows";
import { nameOf, relatedTo, scoreText, type Check, type Report } from "./check";

const byApparatus = { source: "FIE t.54.2" };

export const twoTouches: Check<"phrase" | "review"> = (row, { ledger: { edition, bout } }, report) => {
  const { weapon } = bout.about;
  const rule = edition.doubles[weapon];
  if (row.entry.award !== "both" || rule.value === "one each") return;
  report(row, {
    rule: "two-touches",
    severity: "error",
    message: `both fencers get a touch here; at ${weaponName(weapon)} a phrase gives one touch at most; correct the award`,
    from: rule,
  });
};

export const awardWithoutLamp: Check<"phrase"> = (row, { ledger }, report) => {
  const { award } = row.entry;
  if (award !== undefined && award !== "pending") unlit(row, award, row, ledger, report);
};

export const reviewedAwardWithoutLamp: Check<"review"> = (row, { ledger }, report) => {
  if (row.of === null || row.stands === null || row.stands === row.stood) return;
  const phrase = ledger.byEntry[row.of];
  if (phrase?.kind === "phrase") unlit(row, row.stands, phrase, ledger, report);
};

function unlit(
  row: PhraseRow | ReviewRow,
  award: Standing,
  phrase: PhraseRow,
  ledger: Ledger,
  report: Report,
): void {
  for (const side of sides) {
    if (!hasTouch(award, side) || lampLit(phrase.entry, side, "valid") !== false) continue;
    report(row, {
      rule: "award-without-lamp",
      severity: "warning",
      message: `the touch goes to ${nameOf(ledger, side)}, but no valid lamp is written for ${side}; a touch counts only if the apparatus showed it: correct the lamps or the award`,
      from: byApparatus,
      related: row === phrase ? undefined : relatedTo(phrase, "the phrase whose lamps are written here"),
    });
  }
}

/** White at épée, or for off target at sabre: there the apparatus has no such lamp, or it means something else. */
export const lampNotOfWeapon: Check<"phrase"> = (row, { ledger: { edition, bout } }, report) => {
  const { weapon } = bout.about;
  const meaning = edition.lamps[weapon];
  for (const lamp of lamps) {
    if (meaning[lamp].value !== null) continue;
    const side = sides.find((side) => lampLit(row.entry, side, lamp) === true);
    if (side === undefined) continue;
    report(row, {
      rule: "lamp-not-of-weapon",
      severity: "warning",
      message: `the lamp written for ${side} is "${lamp}", which the apparatus does not show at ${weaponName(weapon)}${
        lamp === "off-target" && meaning.fault.value !== null ? '; a white lamp there means "fault"' : ""
      }; correct the lamps`,
      from: meaning[lamp],
    });
  }
};

export const touchWithoutCommand: Check<"phrase"> = (row, { ledger }, report) => {
  const { stands } = row.phrase;
  if (row.entry.play !== false || stands === null || stands === "none") return;
  const who = stands === "both" ? "both fencers" : nameOf(ledger, stands);
  report(row, {
    rule: "touch-without-command",
    severity: "warning",
    message: `a touch stands for ${who}, but no command to fence was given for this phrase; what starts before the command gives no touch`,
    from: { source: "FIE t.23.1, t.55.1" },
  });
};

/** Whether one touch more ends the bout for this side. */
export function oneTouchLeft({ before }: PhraseRow, { edition, bout }: Ledger, side: 0 | 1): boolean {
  const needed = edition.formats[bout.about.format].touches.value;
  return needed !== null && before.score[side] === needed - 1;
}

const notWrittenForExtra =
  "written for the last touch; for the extra minute it is common practice, no source";

export const doubleAtDecidingTouch: Check<"phrase"> = (row, { ledger }, report) => {
  const { edition, bout } = ledger;
  const rule = edition.formats[bout.about.format].decidingDouble;
  if (bout.about.weapon !== "epee" || row.phrase.stands !== "both" || rule.value === "counts") return;
  const [left, right] = row.before.score;
  const extra = row.before.period === "extra" && left === right;
  const oneEach = oneTouchLeft(row, ledger, 0) && oneTouchLeft(row, ledger, 1);
  if (!extra && !oneEach) return;
  report(row, {
    rule: "double-at-deciding-touch",
    severity: "warning",
    message: `at ${scoreText(row.before.score)} one touch decides, so a double is not counted: award none, because "double at the deciding touch"`,
    from: oneEach ? rule : { ...rule, unverified: rule.unverified ?? notWrittenForExtra },
  });
};

export const fencingAfterLastTouch: Check<"phrase"> = (row, past, report) => {
  const { edition, bout } = past.ledger;
  const { touches } = edition.formats[bout.about.format];
  if (touches.value === null || !row.phrase.counts || row.entry.play === false) return;
  const [left, right] = row.before.score;
  if (Math.max(left, right) < touches.value || !past.first("fencing-after-last-touch")) return;
  report(row, {
    rule: "fencing-after-last-touch",
    severity: "warning",
    message: `the score is ${scoreText(row.before.score)} already, and ${touches.value} touches end the bout, yet fencing goes on; look for a touch too many above, or write the bout's own format`,
    from: touches,
    related: relatedTo(past.phrase, "the phrase above it"),
  });
};

/** Where the touch that ends the bout falls at a level score, the referee looks at the video first. */
export const levelScoreWithoutReview: Check<"phrase"> = (row, { ledger }, report) => {
  const { bout, edition } = ledger;
  const rule = edition.reviews.atLevelScore;
  const { stands, reviews, counts } = row.phrase;
  if (bout.about.video === false || !rule.value || bout.about.format === "training") return;
  if ((stands !== "left" && stands !== "right") || reviews.length > 0 || !counts) return;
  const [left, right] = row.before.score;
  if (left !== right) return;
  if (row.before.period !== "extra" && !oneTouchLeft(row, ledger, 0)) return;
  report(row, {
    rule: "level-score-without-review",
    severity: bout.about.video === true ? "warning" : "note",
    message: `this touch decides the bout from ${scoreText(row.before.score)}; where video is in use the referee looks at it before giving it, and no review is written`,
    from: rule,
  });
};
