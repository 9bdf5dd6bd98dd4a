// Both lamps: to whom is the touch given? The plainest figure of priority; at épée the doubles.

import type { Side, Weapon } from "../bout/words";
import type { BothLamps, BothLampsRow } from "./model";
import { entriesOf, type CountedPhrase, type Opener } from "./phrases";
import { wilson, type EvidencedRate } from "./rates";

const openers: readonly Opener[] = ["left", "right", "both", "nobody", "untagged"];

export function bothLampsOf(phrases: readonly CountedPhrase[], weapon: Weapon): BothLamps {
  const recorded = phrases.filter(({ row }) => row.entry.lamps !== undefined);
  const lit = phrases.filter(({ row }) => row.phrase.bothLamps);
  const doubles = phrases.filter(({ row }) => row.phrase.stands === "both");
  const toOpener = (side: Side) => givenToOpener(lit.filter(({ opener }) => opener === side));
  return {
    share: wilson(entriesOf(lit), recorded.length),
    rows: openers.flatMap((opener): BothLampsRow[] => {
      const group = lit.filter((phrase) => phrase.opener === opener);
      if (group.length === 0) return [];
      const given = (wanted: (stands: CountedPhrase["row"]["phrase"]["stands"]) => boolean) =>
        wilson(entriesOf(group.filter(({ row }) => wanted(row.phrase.stands))), group.length);
      return [
        {
          opener,
          phrases: entriesOf(group),
          left: given((stands) => stands === "left"),
          right: given((stands) => stands === "right"),
          both: given((stands) => stands === "both"),
          nothing: given((stands) => stands === null || stands === "none"),
        },
      ];
    }),
    toOpener: { left: toOpener("left"), right: toOpener("right") },
    toEitherOpener: givenToOpener(lit.filter(({ opener }) => opener === "left" || opener === "right")),
    doubles: weapon === "epee" || doubles.length > 0 ? wilson(entriesOf(doubles), phrases.length) : null,
  };
}

/** Of those given to one side alone, those given to the side that opened. */
function givenToOpener(phrases: readonly CountedPhrase[]): EvidencedRate {
  const given = phrases.filter(
    ({ row: { phrase } }) => phrase.stands === "left" || phrase.stands === "right",
  );
  return wilson(entriesOf(given.filter(({ row, opener }) => row.phrase.stands === opener)), given.length);
}
