// What is different between two bouts: of a fencer who is in both, and of the bouts as wholes?

import type { Side } from "../bout/words";
import { hasTouch, type Ledger } from "../rules";
import { bothLampsOf } from "./both-lamps";
import { namesOf, paced } from "./bout-tests";
import { judged, tryRates, tryShares, type Try } from "./comparing";
import type { Comparisons } from "./model";
import { conversionOf, familyTable, openedTable } from "./opened";
import { countedPhrases, entriesOf, type CountedPhrase } from "./phrases";
import { wilson } from "./rates";
import { sideIn } from "./relation";

/** A comparison's `first` holds entries of the first file, its `second` those of the second. */
export interface BoutsCompared {
  /** Fencers found in both, with their side in each. */
  readonly fencers: readonly { readonly name: string; readonly first: Side; readonly second: Side }[];
  readonly comparisons: Comparisons;
}

export function compareBouts(first: Ledger, second: Ledger): BoutsCompared {
  const names = namesOf(first);
  const fencers = (["left", "right"] as const).flatMap((side) => {
    const other = sideIn(first.bout, side, second.bout);
    return other === null ? [] : [{ name: names[side], first: side, second: other }];
  });
  const pair = [countedPhrases(first), countedPhrases(second)] as const;
  return {
    fencers,
    comparisons: judged([
      ...wholes(pair, first, second),
      ...fencers.flatMap((fencer) => ofFencer(pair, fencer)),
    ]),
  };
}

type Pair = readonly [readonly CountedPhrase[], readonly CountedPhrase[]];
const labels = ["first bout", "second bout"] as const;

function wholes([one, other]: Pair, first: Ledger, second: Ledger): readonly Try[] {
  const shares = (key: string, question: string, wanted: (phrase: CountedPhrase) => boolean) =>
    tryShares(
      key,
      question,
      { label: labels[0], rate: wilson(entriesOf(one.filter(wanted)), one.length) },
      { label: labels[1], rate: wilson(entriesOf(other.filter(wanted)), other.length) },
    );
  const [lampsOne, lampsOther] = [
    bothLampsOf(one, first.bout.about.weapon),
    bothLampsOf(other, second.bout.about.weapon),
  ];
  return [
    ...shares("bouts.touch", "phrases with a touch", ({ row }) =>
      (["left", "right"] as const).some((side) => hasTouch(row.phrase.stands, side)),
    ),
    ...tryShares(
      "bouts.both-lamps",
      "phrases with both lamps",
      { label: labels[0], rate: lampsOne.share },
      { label: labels[1], rate: lampsOther.share },
    ),
    ...tryShares(
      "bouts.both-lamps.opener",
      "both lamps given to the one who opened",
      { label: labels[0], rate: lampsOne.toEitherOpener },
      { label: labels[1], rate: lampsOther.toEitherOpener },
    ),
  ];
}

function ofFencer(
  [one, other]: Pair,
  { name, first, second }: BoutsCompared["fencers"][number],
): readonly Try[] {
  const opened = [openedTable(one, first), openedTable(other, second)] as const;
  const share = (key: string, question: string, by: "own" | "opponent", outcome: "for" | "against") =>
    tryShares(
      `bouts.${first}.${key}`,
      `${name}, ${question}`,
      { label: labels[0], rate: opened[0][by].outcomes[outcome] },
      { label: labels[1], rate: opened[1][by].outcomes[outcome] },
    );
  const told = conversionOf(one).sides !== null && conversionOf(other).sides !== null;
  return [
    ...share("opened.for", "touch when opening", "own", "for"),
    ...share("opened.against", "touch against when opening", "own", "against"),
    ...share("answered.for", "touch when the opponent opened", "opponent", "for"),
    ...share("answered.against", "touch against when the opponent opened", "opponent", "against"),
    ...tryRates(
      `bouts.${first}.minute`,
      `${name}, touches a minute of fencing`,
      paced(labels[0], one, first),
      paced(labels[1], other, second),
    ),
    ...(told ? familyTries([one, other], { name, first, second }) : []),
  ];
}

function familyTries(
  [one, other]: Pair,
  { name, first, second }: BoutsCompared["fencers"][number],
): readonly Try[] {
  const rows = familyTable(other, second);
  return familyTable(one, first).flatMap((row) => {
    const same = rows.find(({ family }) => family === row.family);
    if (same === undefined) return [];
    return tryShares(
      `bouts.${first}.family.${row.family}`,
      `${name}, touch by ${row.family} when used`,
      { label: labels[0], rate: row.scored },
      { label: labels[1], rate: same.scored },
    );
  });
}
