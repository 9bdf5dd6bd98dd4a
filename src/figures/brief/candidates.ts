// Every comparison a brief tries, and what it would say of each. The list is the same for every fencer; only what has
// too few bouts or nothing to count is not tried.

import { families, opponent, type Family } from "../../bout/words";
import { tryKinds, tryNet, tryOutcomes, type BriefTry } from "./comparing";
import type { OwnBout } from "./fencers";
import * as kind from "./kinds";
import { isAgainst, isFor, pick, type Wanted } from "./pooling";
import { trendTry, type Trend } from "./trend";

export function candidatesOf(name: string, bouts: readonly OwnBout[], trend: Trend): readonly BriefTry[] {
  return [
    ...wonAndLost(name, bouts),
    ...byFamily(name, bouts),
    ...twoKinds(name, bouts),
    ...trendTry(name, bouts, trend),
  ];
}

function wonAndLost(name: string, bouts: readonly OwnBout[]): readonly BriefTry[] {
  const outcomes = (key: string, when: string, wanted: Wanted) =>
    outcomesWhen(name, bouts, key, when, wanted);
  return [
    ...outcomes("all", "over all phrases", () => true),
    ...outcomes("opened.own", `when ${name} opens`, kind.openedBy("own")),
    ...outcomes("opened.opponent", "when the opponent opens", kind.openedBy("opponent")),
    ...outcomes("opened.both", "when both open together", kind.openedBy("both")),
    ...outcomes("lamps.both", "when both lamps are lit", kind.bothLamps),
    ...outcomes("moment.last-minute", "in the last minute of a period", kind.inLastMinute),
    ...outcomes("moment.deciding", "near the deciding touch", kind.nearDeciding),
  ];
}

/** The fencer's actions of a family beside the opponents' in the same bouts. Not touches for against touches against: an
 * action told last in a phrase is mostly the one that scored, so that would praise every riposte. */
function byFamily(name: string, bouts: readonly OwnBout[]): readonly BriefTry[] {
  return (Object.keys(families) as Family[]).flatMap((family) => {
    const actions = plurals[family];
    const says = (how: string) => `The ${actions} of ${name} score ${how} often than those of the opponents`;
    return tryKinds(
      {
        key: `family.${family}`,
        question: `${actions} that scored, of ${name} and of the opponents`,
        says: { more: says("more"), fewer: says("less") },
      },
      {
        label: name,
        picked: pick(bouts, kind.usedFamily("own", family)),
        wanted: (phrase, { side }) => kind.scoredBy(phrase, side) === family,
      },
      {
        label: "opponents",
        picked: pick(bouts, kind.usedFamily("opponent", family)),
        wanted: (phrase, { side }) => kind.scoredBy(phrase, opponent(side)) === family,
      },
    );
  });
}

const plurals: Readonly<Record<Family, string>> = {
  attack: "attacks",
  riposte: "ripostes",
  "counter-attack": "counter-attacks",
  renewal: "renewals",
  line: "points in line",
};

function outcomesWhen(
  name: string,
  bouts: readonly OwnBout[],
  key: string,
  when: string,
  wanted: Wanted,
): readonly BriefTry[] {
  const says = (goes: string) => `${capital(when)}, more touches go ${goes}`;
  return tryOutcomes(
    {
      key,
      question: `touches ${when}`,
      says: { more: says(`to ${name} than against`), fewer: says(`against ${name} than the other way`) },
    },
    pick(bouts, wanted),
    { label: "for", wanted: isFor },
    { label: "against", wanted: isAgainst },
  );
}

/**
 * Score and clock are treated with care. What a side does when behind or near the last touch is shown and not compared
 * with the rest of the same bout: phrases chosen by the score so far lean to one side even where nothing changes (Miller
 * and Sanjurjo, Econometrica 86 (2018) 2019-2047). The last minute is reached where few touches came before it, so only
 * the balance of touches is compared, which that does not move.
 */
function twoKinds(name: string, bouts: readonly OwnBout[]): readonly BriefTry[] {
  const opening = { label: `when ${name} opens`, picked: pick(bouts, kind.openedBy("own")) };
  const answering = { label: "when the opponent opens", picked: pick(bouts, kind.openedBy("opponent")) };
  const late = { label: "in the last minute of a period", picked: pick(bouts, kind.inLastMinute) };
  const early = { label: "earlier in it", picked: pick(bouts, kind.beforeLastMinute) };
  const says = (verb: string) => ({
    more: `${name} ${verb} more often when opening than ${answering.label}`,
    fewer: `${name} ${verb} less often when opening than ${answering.label}`,
  });
  const asked = (what: string) => `${what}, ${opening.label} and ${answering.label}`;
  const tried = (key: string, what: string, verb: string, wanted: Wanted) =>
    tryKinds(
      { key, question: asked(what), says: says(verb) },
      { ...opening, wanted },
      { ...answering, wanted },
    );
  return [
    ...tried("opening-answering.for", "touch for", "scores", isFor),
    ...tried("opening-answering.against", "touch against", "is hit", isAgainst),
    ...tryNet(
      {
        key: "last-minute",
        question: "balance of touches, in the last minute of a period and earlier",
        says: {
          more: `${name} does better in the last minute of a period than earlier in it`,
          fewer: `${name} does worse in the last minute of a period than earlier in it`,
        },
      },
      late,
      early,
    ),
  ];
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
