// Has it changed over time? The fencer's share of the touches bout by bout. A slope is told only against opponents met
// more than once, each compared with earlier meetings: otherwise a season of stronger opponents would look like a fall.

import { commonSlope, type Slope } from "../../statistics";
import type { BriefTry } from "./comparing";
import type { OwnBout } from "./fencers";
import { isAgainst, isFor, pick, rateOf, type PooledRate } from "./pooling";

export interface TrendPoint {
  readonly file: string;
  readonly date: string;
  readonly opponent: string;
  /** Touches of the fencer, of all touches of one side or the other in the bout. */
  readonly share: PooledRate;
}
export interface Trend {
  /** Dated bouts with a touch, oldest first. */
  readonly points: readonly TrendPoint[];
  readonly undated: number;
  /** By calendar year, each pooled over its bouts. */
  readonly years: readonly { readonly year: string; readonly bouts: number; readonly share: PooledRate }[];
  /** Change of the share in a year, against the same opponents; null where meetings are too few. */
  readonly slope: Slope | null;
}

export function trendOf(bouts: readonly OwnBout[]): Trend {
  const dated = bouts.filter((bout): bout is OwnBout & { date: string } => !Number.isNaN(dayOf(bout.date)));
  const points = dated.flatMap((bout): TrendPoint[] => {
    const share = touchShare([bout]);
    return share.of === 0 ? [] : [{ file: bout.file, date: bout.date, opponent: bout.opponent.key, share }];
  });
  const years = [...new Set(dated.map(({ date }) => date.slice(0, 4)))];
  return {
    points,
    undated: bouts.length - dated.length,
    years: years.map((year) => {
      const own = dated.filter(({ date }) => date.startsWith(year));
      return { year, bouts: own.length, share: touchShare(own) };
    }),
    slope: commonSlope(
      points.map(({ date, opponent, share }) => ({
        x: dayOf(date) / 365.25,
        y: share.value ?? 0,
        weight: share.of,
        group: opponent,
      })),
    ),
  };
}

/** Days since 1970; NaN without a date or for one that is not in the calendar. */
function dayOf(date: string | null): number {
  return date === null ? NaN : Date.parse(`${date}T00:00:00Z`) / 86_400_000;
}

/** A touch for both counts in both. */
function touchShare(bouts: readonly OwnBout[]): PooledRate {
  const [won, lost] = [pick(bouts, isFor), pick(bouts, isAgainst)];
  return rateOf(
    bouts.map(({ file }, at) => {
      const entries = won[at]?.phrases.map(({ entry }) => entry) ?? [];
      return { file, entries, of: entries.length + (lost[at]?.phrases.length ?? 0) };
    }),
  );
}

export function trendTry(
  name: string,
  bouts: readonly OwnBout[],
  { slope, points }: Trend,
): readonly BriefTry[] {
  if (slope === null) return [];
  const half = Math.ceil(points.length / 2);
  const part = (label: string, some: readonly TrendPoint[]) => {
    const files = new Set(some.map(({ file }) => file));
    const own = bouts.filter(({ file }) => files.has(file));
    const { count, of, evidence } = touchShare(own);
    return { label, count, of, evidence };
  };
  const { value, low, high, p } = slope;
  const says = (way: string) =>
    `Against the same opponents, ${name}'s share of the touches has been ${way} from year to year`;
  return [
    {
      kind: "trend",
      key: "trend",
      question: "share of the touches over time, against the same opponents",
      first: part("later half of the bouts", points.slice(half)),
      second: part("earlier half", points.slice(0, half)),
      bouts: points.length,
      difference: { value, low, high },
      between: null,
      p,
      says: { more: says("rising"), fewer: says("falling") },
    },
  ];
}
