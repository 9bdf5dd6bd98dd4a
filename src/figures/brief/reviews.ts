// What the fencer asked the video for, and which cards were shown, over the bouts.

import { opponent, type CardColour } from "../../bout/words";
import { evidenceOf as sheetEvidence } from "../tally";
import { reviewsOf } from "../reviews";
import type { ReviewLine, Situation } from "../model";
import type { Entries } from "../rates";
import type { OwnBout } from "./fencers";
import { evidenceFrom, rateOf, type BriefEvidence, type PooledRate } from "./pooling";

export interface BriefReviews {
  /** `asked` counts all; `granted` only those that had a picture. */
  readonly own: AskedFor;
  readonly opponents: AskedFor;
  /** Both-lamp calls that went to the opponent without any review, while an appeal was left. */
  readonly notAsked: BriefEvidence;
}
export interface AskedFor {
  readonly asked: BriefEvidence;
  readonly granted: PooledRate;
  /** When they ask: the score as the asking side saw it, of all its appeals. */
  readonly situations: readonly {
    readonly situation: Situation;
    readonly asked: PooledRate;
    readonly granted: PooledRate;
  }[];
}

const situations: readonly Situation[] = ["ahead", "level", "behind"];

export function briefReviews(bouts: readonly OwnBout[]): BriefReviews {
  const all = bouts.map((bout) => ({ bout, reviews: reviewsOf(bout.ledger, bout.phrases) }));
  const lines = (who: "own" | "opponents") =>
    all.map(({ bout, reviews }) => {
      const by = who === "own" ? bout.side : opponent(bout.side);
      return { file: bout.file, lines: reviews.lines.filter((line) => line.by === by) };
    });
  return {
    own: askedFor(lines("own")),
    opponents: askedFor(lines("opponents")),
    notAsked: evidenceFrom(
      all.map(({ bout, reviews }) => ({
        file: bout.file,
        entries: reviews.sides[bout.side].notAppealedWithAppeal ?? [],
      })),
    ),
  };
}

interface Asked {
  readonly file: string;
  readonly lines: readonly ReviewLine[];
}

function askedFor(bouts: readonly Asked[]): AskedFor {
  return {
    asked: evidenceFrom(bouts.map(({ file, lines }) => ({ file, entries: entries(lines) }))),
    granted: granted(bouts),
    situations: situations.map((situation) => {
      const inIt = bouts.map(({ file, lines }) => ({
        file,
        lines: lines.filter((line) => line.situation === situation),
      }));
      return {
        situation,
        asked: rateOf(
          inIt.map(({ file, lines }, at) => ({
            file,
            entries: entries(lines),
            of: bouts[at]?.lines.length ?? 0,
          })),
        ),
        granted: granted(inIt),
      };
    }),
  };
}

function granted(bouts: readonly Asked[]): PooledRate {
  return rateOf(
    bouts.map(({ file, lines }) => {
      const judged = lines.filter(({ result }) => result !== "no picture");
      return {
        file,
        entries: entries(judged.filter(({ result }) => result === "changed")),
        of: judged.length,
      };
    }),
  );
}

function entries(lines: readonly ReviewLine[]): Entries {
  return lines.map(({ entry }) => entry);
}

export interface BriefCards {
  readonly own: readonly CardsOfColour[];
  readonly opponents: readonly CardsOfColour[];
}
export interface CardsOfColour {
  readonly card: CardColour;
  readonly count: number;
  readonly evidence: BriefEvidence;
}

/** Cards by colour, and the penalty touches they brought; as the sheets count them. */
export function briefCards(bouts: readonly OwnBout[]): BriefCards & {
  readonly penaltyTouches: { readonly for: BriefEvidence; readonly against: BriefEvidence };
} {
  const all = bouts.map(({ file, ledger, side }) => {
    const { sides } = sheetEvidence(ledger);
    return { file, own: sides[side], other: sides[opponent(side)] };
  });
  const cards = (who: "own" | "other"): readonly CardsOfColour[] =>
    [...new Set(all.flatMap((one) => [...one[who].cards.keys()]))].map((card) => {
      const evidence = evidenceFrom(
        all.map((one) => ({ file: one.file, entries: one[who].cards.get(card) ?? [] })),
      );
      return { card, count: evidence.reduce((sum, one) => sum + one.entries.length, 0), evidence };
    });
  const penalty = (who: "own" | "other") =>
    evidenceFrom(all.map((one) => ({ file: one.file, entries: one[who].penaltyTouches })));
  return {
    own: cards("own"),
    opponents: cards("other"),
    penaltyTouches: { for: penalty("own"), against: penalty("other") },
  };
}
