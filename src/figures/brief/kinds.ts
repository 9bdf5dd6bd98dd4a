// The kinds of phrases a brief looks at: who opened, with which action, at which moment of the bout.

import { doneAction, familyOf, opponent, sidesOf, type Family, type Side } from "../../bout/words";
import { familyScored } from "../opened";
import { openedAsSeen, type CountedPhrase } from "../phrases";
import type { OpenedBy } from "../model";
import type { OwnBout } from "./fencers";
import type { Wanted } from "./pooling";

export const openedBy =
  (wanted: OpenedBy): Wanted =>
  ({ opener }, { side }) =>
    openedAsSeen(opener, side) === wanted;

export const bothLamps: Wanted = ({ row }) => row.phrase.bothLamps;

/** The fencer, or the opponent, used an action of the family. */
export const usedFamily =
  (who: "own" | "opponent", family: Family): Wanted =>
  ({ row }, { side }) => {
    const doing = who === "own" ? side : opponent(side);
    return (row.entry.actions ?? []).some((words) => {
      const { doer, action } = doneAction(words);
      return familyOf(action) === family && sidesOf(doer).includes(doing);
    });
  };

/** The family by which a side has the touch of the phrase. */
export function scoredBy({ row }: CountedPhrase, side: Side): Family | "untagged" | null {
  return familyScored(row.phrase.scoring[side]);
}

// ---- Moments

/** Seconds of fencing at the end of a period that count as its last minute. */
const lastMinute = 60;

/** Whether the command to fence came in the last minute of fencing of a period; undefined where no length of the
 * period holds or the extra minute is fenced. */
function minuteOf({ row }: CountedPhrase, { ledger, format }: OwnBout): "last" | "before" | undefined {
  const seconds = ledger.edition.formats[format].periodSeconds.value;
  const { period, fencingInPeriod } = row.before;
  if (seconds === null || period === "extra") return undefined;
  return seconds - fencingInPeriod / 1000 <= lastMinute ? "last" : "before";
}
export const inLastMinute: Wanted = (phrase, bout) => minuteOf(phrase, bout) === "last";
export const beforeLastMinute: Wanted = (phrase, bout) => minuteOf(phrase, bout) === "before";

/** Touches a side is short of the format's number when the end of the bout is near. */
export const nearTouches = 2;

function fromLast({ row }: CountedPhrase, { ledger, format }: OwnBout): number | undefined {
  const touches = ledger.edition.formats[format].touches.value;
  return touches === null ? undefined : touches - Math.max(...row.before.score);
}
export const nearDeciding: Wanted = (phrase, bout) => (fromLast(phrase, bout) ?? Infinity) <= nearTouches;
export const farFromDeciding: Wanted = (phrase, bout) => {
  const left = fromLast(phrase, bout);
  return left !== undefined && left > nearTouches;
};

/** How far the fencer is ahead at the command to fence. */
function lead({ row }: CountedPhrase, { side }: OwnBout): number {
  const [left, right] = row.before.score;
  return side === "left" ? left - right : right - left;
}
export const ahead: Wanted = (phrase, bout) => lead(phrase, bout) > 0;
export const level: Wanted = (phrase, bout) => lead(phrase, bout) === 0;
export const behind: Wanted = (phrase, bout) => lead(phrase, bout) < 0;
