// Every command of Boutline with its key and what it does. The manifest, the viewer's buttons, the help page and the
// host all read this one table. Keys go by position on the keyboard: the left hand speaks for the fencer on the left of
// the screen, the right hand for the one on the right, mirrored key for key.

import { actionKeys, type ActionKey, type Tagging } from "../bout/tagging";
import type { Doer, Side } from "../bout/words";
import type { TransportAction } from "./contract";

export interface Key {
  /** Position, as `KeyboardEvent.code` names it. */
  readonly code: string;
  readonly shift?: boolean;
  readonly alt?: boolean;
  readonly ctrl?: boolean;
}

/** When a key is alive: while tagging, while points are being placed, or both. */
export type Mode = "tagging" | "placing" | "any";

export type Does =
  | { readonly tag: Tagging }
  | { readonly transport: TransportAction }
  /** Done by the host alone. */
  | { readonly host: string };

/** Headings of the help page and the call pad. */
export type Group =
  | "commits"
  | "answers"
  | "lamps"
  | "referee gives"
  | "reviews, cards, stops"
  | "phrase"
  | "picture"
  | "placing points"
  | "log entries"
  | "picked phrases"
  | "files and pages";

export interface Command {
  readonly id: string;
  readonly title: string;
  readonly group: Group;
  readonly does: Does;
  readonly keys: readonly Key[];
  readonly mode: Mode;
  /** The half of the call pad its button stands on, and the words on the button. */
  readonly pad?: { readonly half: Side; readonly words: string };
}

const key = (code: string, shift = false): Key => (shift ? { code, shift } : { code });

const actionTitles: Readonly<Record<ActionKey, { readonly words: string; readonly group: Group }>> = {
  attack: { words: "attack", group: "commits" },
  counterAttack: { words: "counter-attack", group: "commits" },
  renewal: { words: "remise", group: "commits" },
  line: { words: "point in line", group: "commits" },
  parry: { words: "parry", group: "answers" },
  riposte: { words: "riposte", group: "answers" },
  lean: { words: "lean back", group: "answers" },
};
const actionCodes: Readonly<Record<ActionKey, readonly [left: string, right: string]>> = {
  attack: ["KeyF", "KeyJ"],
  counterAttack: ["KeyA", "Semicolon"],
  renewal: ["KeyR", "KeyU"],
  line: ["KeyE", "KeyI"],
  parry: ["KeyD", "KeyK"],
  riposte: ["KeyS", "KeyL"],
  lean: ["KeyW", "KeyO"],
};

const fencer = { left: "left fencer", right: "right fencer", both: "both fencers" } as const;

function actionCommands(): Command[] {
  return (Object.keys(actionKeys) as ActionKey[]).flatMap((name) => {
    const { words, group } = actionTitles[name];
    const [left, right] = actionCodes[name];
    const command = (doer: Doer, keys: readonly Key[], half?: Side): Command => ({
      id: `boutline.${name}.${doer}`,
      title: `${capital(words)}, ${fencer[doer]}`,
      group,
      does: { tag: { do: "action", doer, key: name } },
      keys,
      mode: "tagging",
      ...(half === undefined ? {} : { pad: { half, words } }),
    });
    return [
      command("left", [key(left)], "left"),
      command("right", [key(right)], "right"),
      command("both", [key(left, true), key(right, true)]),
    ];
  });
}

function pair(
  id: string,
  title: string,
  group: Group,
  tag: (side: Side) => Tagging,
  keys: readonly [Key, Key],
  words?: string,
): Command[] {
  const command = (side: Side, one: Key): Command => ({
    id: `boutline.${id}.${side}`,
    title: `${title}, ${fencer[side]}`,
    group,
    does: { tag: tag(side) },
    keys: [one],
    mode: "tagging",
    ...(words === undefined ? {} : { pad: { half: side, words } }),
  });
  return [command("left", keys[0]), command("right", keys[1])];
}

function one(id: string, title: string, group: Group, tag: Tagging, ...keys: Key[]): Command {
  return { id: `boutline.${id}`, title, group, does: { tag }, keys, mode: "tagging" };
}

function transport(
  id: string,
  title: string,
  action: TransportAction,
  keys: readonly Key[],
  mode: Mode = "any",
  group: Group = "picture",
): Command {
  return { id: `boutline.${id}`, title, group, does: { transport: action }, keys, mode };
}

function host(id: string, title: string): Command {
  return { id: `boutline.${id}`, title, group: "files and pages", does: { host: id }, keys: [], mode: "any" };
}

export const commands: readonly Command[] = [
  one("fence", "Fence! A phrase begins", "phrase", { do: "fence" }, key("KeyV")),
  one("halt", "Halt! The phrase, or the stop, is over", "phrase", { do: "halt" }, key("KeyN")),
  ...actionCommands(),
  ...pair(
    "valid",
    "Valid lamp",
    "lamps",
    (doer) => ({ do: "lamp", doer, lamp: "valid" }),
    [key("KeyG"), key("KeyH")],
    "valid",
  ),
  ...pair(
    "offTarget",
    "Off-target lamp",
    "lamps",
    (doer) => ({ do: "lamp", doer, lamp: "off-target" }),
    [key("KeyT"), key("KeyY")],
    "off target",
  ),
  ...pair("fault", "Fault lamp", "lamps", (doer) => ({ do: "lamp", doer, lamp: "fault" }), [
    key("KeyT", true),
    key("KeyY", true),
  ]),
  one(
    "bothValid",
    "Double: both valid lamps",
    "lamps",
    { do: "lamp", doer: "both", lamp: "valid" },
    key("KeyB"),
  ),
  one("noLamp", "No lamp lit", "lamps", { do: "no lamp" }, key("KeyB", true)),
  ...pair(
    "touch",
    "Touch",
    "referee gives",
    (side) => ({ do: "award", award: side }),
    [key("Digit1"), key("Digit0")],
    "touch",
  ),
  one(
    "noTouch",
    "No touch; again: the reason",
    "referee gives",
    { do: "award", award: "none" },
    key("Digit5"),
  ),
  one(
    "pending",
    "Undecided until the video review",
    "referee gives",
    { do: "award", award: "pending" },
    key("Digit6"),
  ),
  ...pair("annul", "Annul the touch", "referee gives", (side) => ({ do: "annul", side }), [
    key("Digit1", true),
    key("Digit0", true),
  ]),
  ...pair(
    "appeal",
    "Video appeal; then the touch that stands",
    "reviews, cards, stops",
    (side) => ({ do: "review", by: side }),
    [key("KeyC"), key("KeyM")],
    "appeal",
  ),
  one(
    "refereeReview",
    "Video review by the referee",
    "reviews, cards, stops",
    { do: "review", by: "referee" },
    key("KeyC", true),
  ),
  one(
    "videoRefereeReview",
    "Video review by the video-referee",
    "reviews, cards, stops",
    { do: "review", by: "video-referee" },
    key("KeyM", true),
  ),
  ...pair(
    "card",
    "Card; again: the next colour",
    "reviews, cards, stops",
    (to) => ({ do: "card", to }),
    [key("KeyX"), key("Comma")],
    "card",
  ),
  one(
    "card.both",
    "Card, both fencers",
    "reviews, cards, stops",
    { do: "card", to: "both" },
    key("KeyX", true),
    key("Comma", true),
  ),
  ...pair(
    "stop",
    "Stop asked for; again: the next reason",
    "reviews, cards, stops",
    (by) => ({ do: "stop", by }),
    [key("KeyZ"), key("Period")],
    "stop",
  ),
  one(
    "refereeStop",
    "Stop by the referee; again: the next reason",
    "reviews, cards, stops",
    { do: "stop", by: "referee" },
    key("Slash"),
  ),
  one("takeBack", "Take back the last action", "phrase", { do: "take back" }, key("Backspace")),
  one("target", "Where the touch landed", "phrase", { do: "target" }, key("Digit2")),
  one("star", "Star this phrase", "phrase", { do: "star" }, key("Digit4")),
  one("unsure", "Not sure of this phrase", "phrase", { do: "unsure" }, key("Digit7")),
  one("board", "What the scoreboard shows", "log entries", { do: "board" }, key("Digit3")),
  one("distance", "The fencing distance is set", "log entries", { do: "distance" }, key("Digit8")),
  one("note", "Note", "log entries", { do: "note" }, key("Digit9")),
  one("delete", "Delete the entry under the playhead", "log entries", { do: "delete" }, key("Delete")),
  one("period", "A new period begins", "log entries", { do: "period" }),
  one("draw", "Lots are drawn for priority", "log entries", { do: "draw" }),
  one("correction", "The officials set the score by hand", "log entries", { do: "correction" }),
  one("end", "The bout ends", "log entries", { do: "end" }),
  transport("play", "Play or pause", "play", [key("Space")]),
  transport("frameBack", "One frame back", "frame back", [key("ArrowLeft")], "tagging"),
  transport("frameForward", "One frame forward", "frame forward", [key("ArrowRight")], "tagging"),
  transport("secondBack", "One second back", "second back", [key("ArrowLeft", true)], "tagging"),
  transport("secondForward", "One second forward", "second forward", [key("ArrowRight", true)], "tagging"),
  transport("previousEntry", "To the entry before", "previous entry", [key("ArrowUp")], "tagging"),
  transport("nextEntry", "To the next entry", "next entry", [key("ArrowDown")], "tagging"),
  transport("nextWaiting", "To the next call waiting", "next waiting", [key("Backslash")], "tagging"),
  transport(
    "pickPhrase",
    "Pick this phrase, or leave it out",
    "pick this",
    [key("Quote")],
    "tagging",
    "picked phrases",
  ),
  transport(
    "previousPicked",
    "To the picked phrase before",
    "previous picked",
    [key("ArrowUp", true)],
    "tagging",
    "picked phrases",
  ),
  transport(
    "nextPicked",
    "To the next picked phrase",
    "next picked",
    [key("ArrowDown", true)],
    "tagging",
    "picked phrases",
  ),
  transport(
    "playPicked",
    "Play the picked phrases one after another",
    "play picked",
    [key("Enter", true)],
    "tagging",
    "picked phrases",
  ),
  transport("slower", "Slower", "slower", [key("BracketLeft")]),
  transport("faster", "Faster", "faster", [key("BracketRight")]),
  transport("again", "This phrase again and again", "again", [key("Enter")], "tagging"),
  transport(
    "beginningEarlier",
    "The entry begins a frame earlier",
    "beginning earlier",
    [{ code: "ArrowLeft", alt: true }],
    "tagging",
  ),
  transport(
    "beginningLater",
    "The entry begins a frame later",
    "beginning later",
    [{ code: "ArrowRight", alt: true }],
    "tagging",
  ),
  transport(
    "endEarlier",
    "The entry ends a frame earlier",
    "end earlier",
    [{ code: "ArrowLeft", alt: true, shift: true }],
    "tagging",
  ),
  transport(
    "endLater",
    "The entry ends a frame later",
    "end later",
    [{ code: "ArrowRight", alt: true, shift: true }],
    "tagging",
  ),
  transport("zoomIn", "Zoom in", "zoom in", [key("Equal")]),
  transport("zoomOut", "Zoom out", "zoom out", [key("Minus")]),
  transport("wholePicture", "The whole picture", "whole picture", [key("Backquote")]),
  transport("goToTime", "Go to a time", "go to time", [{ code: "KeyG", ctrl: true }]),
  transport("nextRecording", "The next recording of this bout", "next recording", []),
  transport(
    "placeFit",
    "Place points to fit the floor",
    "place fit",
    [key("KeyQ")],
    "tagging",
    "placing points",
  ),
  transport(
    "placePlatforms",
    "Place the corners of the platforms",
    "place platforms",
    [key("KeyP")],
    "tagging",
    "placing points",
  ),
  transport(
    "nudgeLeft",
    "Point one pixel left",
    "nudge left",
    [key("ArrowLeft")],
    "placing",
    "placing points",
  ),
  transport(
    "nudgeRight",
    "Point one pixel right",
    "nudge right",
    [key("ArrowRight")],
    "placing",
    "placing points",
  ),
  transport("nudgeUp", "Point one pixel up", "nudge up", [key("ArrowUp")], "placing", "placing points"),
  transport(
    "nudgeDown",
    "Point one pixel down",
    "nudge down",
    [key("ArrowDown")],
    "placing",
    "placing points",
  ),
  transport("keepPoints", "Keep the points", "keep points", [key("Enter")], "placing", "placing points"),
  transport(
    "takeBackPoint",
    "Take back the last point",
    "take back point",
    [key("Backspace")],
    "placing",
    "placing points",
  ),
  transport("leavePlacing", "Leave placing", "leave placing", [key("Escape")], "placing", "placing points"),
  host("openDemo", "Open the demo bout"),
  host("newBout", "New bout file for a recording"),
  host("findRecording", "Find a moved recording again"),
  host("compareBouts", "Compare the two bouts"),
  host("compareWith", "Compare with another bout"),
  host("sameId", "Give both the same id"),
  host("dismissSuggestion", "Leave this suggestion away for this session"),
  host("openViewer", "Open the viewer"),
  host("openText", "Open the text beside the viewer"),
  host("showEntry", "Show this entry in the recording"),
  host("showSheet", "Study sheet"),
  host("briefOnFencer", "Brief on a fencer"),
  host("queryPhrases", "Query the phrases"),
  host("groupBouts", "Group the bouts by event, fencer, weapon, category or date"),
  host("filterBouts", "Show the bouts with these words"),
  host("showAllBouts", "Show all bouts again"),
  host("readBoutsAgain", "Look for bout files again"),
  host("choosePhrases", "Pick phrases by what they hold"),
  host("savePick", "Save the picked phrases under a name"),
  host("openPick", "Open, rename or delete saved picks"),
  host("cutClips", "Cut training clips"),
  host("makeReel", "Make a reel"),
  host("makeCopy", "Make a viewing copy of the recording"),
  host("clearCopies", "Clear viewing copies"),
  host("showFilming", "How to film a bout well"),
  host("showKeys", "Keys and commands"),
];

const byId = new Map(commands.map((command) => [command.id, command]));

export function commandById(id: string): Command | undefined {
  return byId.get(id);
}

const here = "activeCustomEditorId == 'boutline.viewer' && boutline.viewerFocused";
const whenByMode: Readonly<Record<Mode, string>> = {
  tagging: `${here} && !boutline.placing`,
  placing: `${here} && boutline.placing`,
  any: here,
};

/** How the manifest writes a key: by position, `shift+[KeyF]`. */
export function keyText({ code, shift, alt, ctrl }: Key): string {
  return `${ctrl === true ? "ctrl+" : ""}${shift === true ? "shift+" : ""}${alt === true ? "alt+" : ""}[${code}]`;
}

/** The `commands` and `keybindings` contributions of the extension's manifest. A key's position goes along as argument,
 * so that the viewer can tell which key press a command comes from. */
export function contributions() {
  return {
    commands: commands.map(({ id, title }) => ({ command: id, title, category: "Boutline" })),
    keybindings: commands.flatMap(({ id, keys, mode }) =>
      keys.map((one) => ({
        command: id,
        key: keyText(one),
        when: whenByMode[mode],
        args: { key: one.code },
      })),
    ),
  };
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
