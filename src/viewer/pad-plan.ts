// What stands on the call pad: the command table's buttons by half and heading, and the keys common to both fencers.

import { actionKeys, type ActionKey } from "../bout/tagging";
import type { Side } from "../bout/words";
import { commandById, commands, type Command, type Group } from "../messages/commands";
import type { Item } from "../messages/scene";

export interface PadGroup {
  readonly heading: Group;
  readonly commands: readonly Command[];
}

/** The buttons of one half of the pad, the left or right one on the screen. */
export function padHalf(half: Side): readonly PadGroup[] {
  const own = commands.filter(({ pad }) => pad?.half === half);
  return [...new Set(own.map(({ group }) => group))].map((heading) => ({
    heading,
    commands: own.filter(({ group }) => group === heading),
  }));
}

export interface CommonKey {
  readonly command: Command;
  readonly words: string;
}

const commonWords: Readonly<Record<string, string>> = {
  "boutline.fence": "fence",
  "boutline.halt": "halt",
  "boutline.bothValid": "double",
  "boutline.noTouch": "no touch",
  "boutline.refereeStop": "stop",
  "boutline.takeBack": "take back",
  "boutline.star": "star",
  "boutline.unsure": "not sure",
  "boutline.note": "note",
};
const moreWords: Readonly<Record<string, string>> = {
  "boutline.pending": "undecided",
  "boutline.target": "target",
  "boutline.attack.both": "both attack",
  "boutline.counterAttack.both": "both counter-attack",
  "boutline.noLamp": "no lamp",
  "boutline.fault.left": "fault lamp",
  "boutline.fault.right": "fault lamp",
  "boutline.annul.left": "annul touch",
  "boutline.annul.right": "annul touch",
  "boutline.refereeReview": "referee's review",
  "boutline.videoRefereeReview": "video-referee's review",
  "boutline.card.both": "card to both",
  "boutline.board": "scoreboard",
  "boutline.distance": "distance set",
  "boutline.period": "new period",
  "boutline.draw": "lots drawn",
  "boutline.correction": "score set by hand",
  "boutline.end": "end of the bout",
  "boutline.placeFit": "fit the floor",
  "boutline.placePlatforms": "place platforms",
  "boutline.delete": "delete entry",
};

/** Keys common to both fencers, in the row under the picture. */
export const commonKeys: readonly CommonKey[] = planned(commonWords);
/** The rest, behind "more". */
export const moreKeys: readonly CommonKey[] = planned(moreWords);

function planned(words: Readonly<Record<string, string>>): readonly CommonKey[] {
  return Object.entries(words).flatMap(([id, label]) => {
    const command = commandById(id);
    return command === undefined ? [] : [{ command, words: label }];
  });
}

/** The fencer a half of the screen stands for. */
export function fencerOn(half: Side, mirrored: boolean): Side {
  return mirrored === (half === "left") ? "right" : "left";
}

/** What a button shows as done in the phrase the keys speak of: its words, or undefined where it is not done. */
export function doneWords(command: Command, phrase: Item | undefined, mirrored: boolean): string | undefined {
  if (phrase === undefined || !("tag" in command.does)) return undefined;
  const { tag } = command.does;
  const award = phrase.fields["award"];
  switch (tag.do) {
    case "action": {
      const doer = tag.doer === "both" ? "both" : fencerOn(tag.doer, mirrored);
      return lastDone(phrase.actions, doer, tag.key);
    }
    case "lamp": {
      const lit = (side: Side): boolean => phrase.lamps?.[side].includes(tag.lamp) === true;
      const done = tag.doer === "both" ? lit("left") && lit("right") : lit(fencerOn(tag.doer, mirrored));
      return done ? "" : undefined;
    }
    case "no lamp":
      return phrase.lamps?.left.length === 0 && phrase.lamps.right.length === 0 ? "" : undefined;
    case "award": {
      const to = tag.award === "left" || tag.award === "right" ? fencerOn(tag.award, mirrored) : tag.award;
      return award === to || (award === "both" && (to === "left" || to === "right")) ? "" : undefined;
    }
    case "annul":
      return phrase.fields["annulled"] === fencerOn(tag.side, mirrored) ? "" : undefined;
    case "star":
      return phrase.star ? "" : undefined;
    case "unsure":
      return phrase.unsure ? "" : undefined;
    default:
      return undefined;
  }
}

function lastDone(actions: readonly string[], doer: string, key: ActionKey): string | undefined {
  const choices: readonly string[] = actionKeys[key];
  const found = actions.findLast(
    (words) => words.startsWith(`${doer} `) && choices.includes(words.slice(doer.length + 1)),
  );
  return found?.slice(doer.length + 1);
}
