// What the rule books say, article by article, as short bouts: lawful ones without a finding, others with theirs. The
// source stands beside each. "FIE 2026" and "FIE 2024-25" are the FIE Technical Rules of August 2026 and of 2024-25;
// t. is an article. "common practice" marks what no source was found for.

import { describe, expect, test } from "vitest";
import { findingsOf } from "../../src/rules";
import { at, ledgerOf, phrase, type About, type Written } from "./bouts";

type Found = readonly [rule: string, severity: string, entry: number];

interface Scenario {
  readonly says: string;
  readonly source: string;
  readonly about?: About;
  readonly log: readonly Written[];
  readonly score?: readonly [number, number];
  readonly finds?: readonly Found[];
}

const left = (start: string, halt: string, fields: Written = {}) =>
  phrase(start, halt, { award: "left", ...fields });
const right = (start: string, halt: string, fields: Written = {}) =>
  phrase(start, halt, { award: "right", ...fields });
const double = (start: string, halt: string, fields: Written = {}) =>
  phrase(start, halt, { award: "both", ...fields });
const nothing = (start: string, halt: string, fields: Written = {}) =>
  phrase(start, halt, { award: "none", because: "no lamp", ...fields });
const card = (time: string, to: string, colour: string, fields: Written = {}): Written => ({
  kind: "card",
  at: at(time),
  to,
  card: colour,
  ...fields,
});
const for_ = (offence: string): Written => ({ for: offence });
const review = (time: string, by: string, result: string, fields: Written = {}): Written => ({
  kind: "review",
  at: at(time),
  by,
  result,
  ...fields,
});
const opening = (score: [number, number], fields: Written = {}): Written => ({
  kind: "opening",
  at: at("0:00"),
  score,
  cards: { left: [], right: [] },
  period: 1,
  ...fields,
});
const period = (time: string, number: number | "extra"): Written => ({
  kind: "period",
  at: at(time),
  number,
});
const draw = (time: string, to: string): Written => ({ kind: "draw", at: at(time), to });
const end = (time: string, by: string, fields: Written = {}): Written => ({
  kind: "end",
  at: at(time),
  by,
  ...fields,
});
const stop = (time: string, until: string, reason: string): Written => ({
  kind: "stop",
  at: at(time),
  until: at(until),
  for: [reason],
});

const wheelchair: About = { rules: "wheelchair-2026" };
const older: About = { rules: "fie-2024" };
const pool: About = { format: "pool" };

const bouts: Scenario[] = [
  // How long a bout is
  {
    says: "t.38: a pool bout ends at 5 touches",
    source: "FIE 2026, t.38",
    about: pool,
    log: [opening([4, 2]), left("0:10", "0:12"), end("0:20", "touches", { winner: "left" })],
    score: [5, 2],
  },
  {
    says: "t.38: fencing on at 5 touches in a pool contradicts it",
    source: "FIE 2026, t.38",
    about: pool,
    log: [opening([5, 2]), left("0:10", "0:12")],
    finds: [["fencing-after-last-touch", "warning", 1]],
  },
  {
    says: "t.38: a pool bout has one period",
    source: "FIE 2026, t.38",
    about: pool,
    log: [left("0:10", "0:12"), period("3:30", 2)],
    finds: [["period-out-of-turn", "warning", 1]],
  },
  {
    says: "t.38: a pool bout lasts 3 minutes of fencing",
    source: "FIE 2026, t.38",
    about: pool,
    log: [left("0:10", "2:10"), right("2:20", "3:24")],
    finds: [["period-too-long", "warning", 1]],
  },
  {
    says: "t.38.2.a: the higher score wins at the end of time, 4:2 is a result",
    source: "FIE 2026, t.38.2.a",
    about: pool,
    log: [opening([4, 2]), end("3:30", "time", { winner: "left" })],
  },
  {
    says: "t.38.2.a: nobody wins on time who is behind",
    source: "FIE 2026, t.38.2.a",
    about: pool,
    log: [opening([4, 2]), end("3:30", "time", { winner: "right" })],
    finds: [["end-against-score", "warning", 1]],
  },
  {
    says: "t.38.2.b: a bout does not end on time at a level score",
    source: "FIE 2026, t.38.2.b",
    about: pool,
    log: [opening([3, 3]), end("3:30", "time")],
    finds: [["end-against-score", "warning", 1]],
  },
  {
    says: "t.38.2.b: lots are drawn before the extra minute",
    source: "FIE 2026, t.38.2.b, t.40.3",
    about: pool,
    log: [opening([3, 3]), period("3:30", "extra"), nothing("3:40", "4:00")],
    finds: [["missing-draw", "warning", 1]],
  },
  {
    says: "t.38.2.b: lots drawn after the entry of the minute, before it is fenced, are in time",
    source: "FIE 2026, t.38.2.b, t.40.3",
    about: pool,
    log: [opening([3, 3]), period("3:30", "extra"), draw("3:35", "left"), nothing("3:40", "4:00")],
  },
  {
    says: "t.38.2.b: the extra minute is at most a minute",
    source: "FIE 2026, t.38.2.b",
    about: pool,
    log: [opening([3, 3]), draw("3:30", "left"), period("3:31", "extra"), nothing("3:40", "4:44")],
    finds: [["period-too-long", "warning", 3]],
  },
  {
    says: "t.38.2.b: there is no extra minute at an uneven score",
    source: "FIE 2026, t.38.2.b",
    about: pool,
    log: [opening([3, 2]), draw("3:30", "left"), period("3:31", "extra")],
    finds: [["period-out-of-turn", "warning", 2]],
  },
  {
    says: "t.38.2.c, t.40.4: priority leaves the score level",
    source: "FIE 2026, t.38.2.c, t.40.4",
    about: pool,
    log: [
      opening([3, 3]),
      draw("3:30", "right"),
      period("3:31", "extra"),
      nothing("3:40", "4:40"),
      end("4:45", "priority", { winner: "right" }),
    ],
    score: [3, 3],
  },
  {
    says: "t.38.2.b: the fencer the lots fell to wins",
    source: "FIE 2026, t.38.2.b, t.40.3",
    about: pool,
    log: [
      opening([3, 3]),
      draw("3:30", "right"),
      period("3:31", "extra"),
      nothing("3:40", "4:40"),
      end("4:45", "priority", { winner: "left" }),
    ],
    finds: [["end-against-score", "warning", 4]],
  },
  {
    says: "t.39.1, t.40.1: direct elimination goes to 15, so 12:14 is no end by touches",
    source: "FIE 2026, t.39.1, t.40.1",
    log: [opening([12, 14]), end("9:00", "touches", { winner: "right" })],
    finds: [["end-against-score", "warning", 1]],
  },
  {
    says: "t.39.1: three periods follow each other",
    source: "FIE 2026, t.39.1, t.40.1",
    log: [left("0:10", "0:12"), period("4:00", 2), right("4:10", "4:12"), period("8:00", 3)],
  },
  {
    says: "t.39.1: period 3 does not follow period 1",
    source: "FIE 2026, t.39.1, t.40.1",
    log: [left("0:10", "0:12"), period("4:00", 3)],
    finds: [["period-out-of-turn", "warning", 1]],
  },
  {
    says: "t.39.1: the first sabre period ends at 8 touches",
    source: "FIE 2026, t.39.1",
    about: { weapon: "sabre" },
    log: [opening([8, 5]), left("0:10", "0:12"), left("0:20", "0:22")],
    finds: [["missing-sabre-break", "warning", 1]],
  },
  {
    says: "t.39.1: with the break at 8 all is well",
    source: "FIE 2026, t.39.1",
    about: { weapon: "sabre" },
    log: [opening([7, 5]), left("0:10", "0:12"), period("0:20", 2), left("1:30", "1:32")],
  },
  {
    says: "t.42: veterans break at 5 touches at sabre",
    source: "FIE 2026, t.42",
    about: { weapon: "sabre", format: "veterans" },
    log: [opening([5, 4]), left("0:10", "0:12")],
    finds: [["missing-sabre-break", "warning", 1]],
  },
  {
    says: "t.39.1: there is no break at 8 touches at foil",
    source: "FIE 2026, t.39.1",
    log: [opening([8, 5]), left("0:10", "0:12")],
  },
  {
    says: "wheelchair: the break at 8 touches is assumed as in the FIE book, so only a note",
    source: "no wheelchair text found; FIE t.39.1 assumed",
    about: { ...wheelchair, weapon: "sabre" },
    log: [opening([8, 5]), left("0:10", "0:12")],
    finds: [["missing-sabre-break", "note", 1]],
  },
  {
    says: "t.42: veterans fence to 10",
    source: "FIE 2026, t.42",
    about: { format: "veterans" },
    log: [opening([9, 7]), left("0:10", "0:12"), end("0:20", "touches", { winner: "left" })],
    score: [10, 7],
  },
  {
    says: "t.37.3: a bout that has ended is not opened again",
    source: "FIE 2026, t.37.3",
    about: pool,
    log: [
      opening([4, 2]),
      end("3:30", "time"),
      right("3:40", "3:42"),
      card("3:50", "left", "red", { group: 2 }),
    ],
    score: [4, 2],
    finds: [
      ["phrase-after-end", "error", 2],
      ["entry-after-end", "warning", 3],
    ],
  },
  {
    says: "t.122: a black card for refusing to salute may follow the end",
    source: "FIE 2026, t.122",
    about: pool,
    log: [opening([4, 2]), end("3:30", "time"), card("3:40", "right", "black", for_("refusing to salute"))],
  },

  // Touches
  {
    says: "t.89: at foil one phrase gives one touch at most",
    source: "FIE 2026, t.89",
    log: [double("0:10", "0:12")],
    finds: [["two-touches", "error", 0]],
  },
  {
    says: "t.106: at sabre too",
    source: "FIE 2026, t.106",
    about: { weapon: "sabre" },
    log: [double("0:10", "0:12")],
    finds: [["two-touches", "error", 0]],
  },
  {
    says: "t.92: an épée double is a touch each",
    source: "FIE 2026, t.92",
    about: { weapon: "epee" },
    log: [double("0:10", "0:12")],
    score: [1, 1],
  },
  {
    says: "t.38.1.b: at 4:4 in an épée pool a double does not count",
    source: "FIE 2026, t.38.1.b",
    about: { weapon: "epee", format: "pool" },
    log: [opening([4, 4]), double("0:10", "0:12")],
    finds: [["double-at-deciding-touch", "warning", 1]],
  },
  {
    says: "14:14 at épée: the same, but no text that was read says so, so only a note",
    source: "common practice, no source",
    about: { weapon: "epee" },
    log: [opening([14, 14]), double("0:10", "0:12")],
    finds: [["double-at-deciding-touch", "note", 1]],
  },
  {
    says: "t.38.1.b: a double written as not counted is right",
    source: "FIE 2026, t.38.1.b",
    about: { weapon: "epee", format: "pool" },
    log: [
      opening([4, 4]),
      phrase("0:10", "0:12", {
        award: "none",
        because: "double at the deciding touch",
        lamps: { left: "valid", right: "valid" },
      }),
    ],
    score: [4, 4],
  },
  {
    says: "t.54.2: there is no touch the apparatus did not show",
    source: "FIE 2026, t.54.2",
    log: [left("0:10", "0:12", { lamps: { right: "valid" } })],
    finds: [["award-without-lamp", "warning", 0]],
  },
  {
    says: "t.78: at foil a white lamp is a hit off the target and gives nothing",
    source: "FIE 2026, t.78",
    log: [nothing("0:10", "0:12", { because: "off-target", lamps: { left: "off-target" } })],
    score: [0, 0],
  },
  {
    says: "t.91: there is no white lamp at épée",
    source: "FIE 2026, t.91",
    about: { weapon: "epee" },
    log: [nothing("0:10", "0:12", { lamps: { left: "off-target" } })],
    finds: [["lamp-not-of-weapon", "warning", 0]],
  },
  {
    says: "t.98: nor one for off target at sabre, where it registers nothing",
    source: "FIE 2026, t.98",
    about: { weapon: "sabre" },
    log: [nothing("0:10", "0:12", { lamps: { right: "off-target" } })],
    finds: [["lamp-not-of-weapon", "warning", 0]],
  },
  {
    says: "t.23.1, t.55.1: what starts before the command gives no touch",
    source: "FIE 2026, t.23.1, t.55.1",
    log: [left("0:10", "0:12", { play: false })],
    finds: [["touch-without-command", "warning", 0]],
  },
  {
    says: "t.56.1: annulled, it is no touch, and the score falls back by just that one",
    source: "FIE 2026, t.56.1, t.56.4",
    log: [opening([3, 2]), left("0:10", "0:12", { play: false, annulled: "left", for: "before play" })],
    score: [3, 2],
  },

  // Video reviews
  {
    says: "t.61.1: one appeal in a pool bout",
    source: "FIE 2026, t.61.1",
    about: { format: "pool", video: true },
    log: [
      left("0:10", "0:12"),
      review("0:15", "right", "kept"),
      left("0:20", "0:22"),
      review("0:25", "right", "kept"),
    ],
    finds: [["appeal-with-none-left", "warning", 3]],
  },
  {
    says: "t.61.1: two in direct elimination",
    source: "FIE 2026, t.61.1",
    about: { video: true },
    log: [
      left("0:10", "0:12"),
      review("0:15", "right", "kept"),
      left("0:20", "0:22"),
      review("0:25", "right", "kept"),
    ],
  },
  {
    says: "t.61.1: a changed call leaves the appeal",
    source: "FIE 2026, t.61.1",
    about: { format: "pool", video: true },
    log: [
      left("0:10", "0:12"),
      review("0:15", "right", "changed", { award: "none", appeal: "kept" }),
      left("0:20", "0:22"),
      review("0:25", "right", "kept", { appeal: "lost" }),
    ],
  },
  {
    says: "t.61.1: the board may not take the appeal of a changed call",
    source: "FIE 2026, t.61.1",
    about: { video: true },
    log: [left("0:10", "0:12"), review("0:15", "right", "changed", { award: "none", appeal: "lost" })],
    finds: [["appeal-shown-wrong", "warning", 1]],
  },
  {
    says: "t.61.1: nor leave the appeal of a kept one",
    source: "FIE 2026, t.61.1",
    about: { video: true },
    log: [left("0:10", "0:12"), review("0:15", "right", "kept", { appeal: "kept" })],
    finds: [["appeal-shown-wrong", "warning", 1]],
  },
  {
    says: "t.62.2: a review by the referee costs nobody an appeal",
    source: "FIE 2026, t.62.2",
    about: { video: true },
    log: [left("0:10", "0:12"), review("0:15", "referee", "kept", { appeal: "lost" })],
    finds: [["appeal-shown-wrong", "warning", 1]],
  },
  {
    says: "t.62.3: at 14:14 the referee looks before giving the last touch",
    source: "FIE 2026, t.62.3",
    about: { video: true },
    log: [opening([14, 14]), left("0:10", "0:12")],
    finds: [["level-score-without-review", "warning", 1]],
  },
  {
    says: "t.62.3: it is a hint only where nothing says that video was in use",
    source: "FIE 2026, t.62.3",
    log: [opening([14, 14]), left("0:10", "0:12")],
    finds: [["level-score-without-review", "note", 1]],
  },
  {
    says: "t.62.3: and nothing where it was not",
    source: "FIE 2026, t.62.3",
    about: { video: false },
    log: [opening([14, 14]), left("0:10", "0:12")],
  },
  {
    says: "t.62.3: looked at, all is well",
    source: "FIE 2026, t.62.3",
    about: { video: true },
    log: [
      opening([14, 14]),
      phrase("0:10", "0:12", { award: "pending" }),
      review("0:20", "level score", "decided", { award: "right" }),
      end("0:30", "touches", { winner: "right" }),
    ],
    score: [14, 15],
  },
  {
    says: "t.62.3: in the extra minute any touch decides",
    source: "FIE 2026, t.62.3",
    about: { video: true },
    log: [
      opening([7, 7], { period: 3 }),
      draw("0:05", "left"),
      period("0:06", "extra"),
      right("0:10", "0:12"),
      end("0:20", "deciding touch", { winner: "right" }),
    ],
    finds: [["level-score-without-review", "warning", 3]],
  },
  {
    says: "t.62.5: no action is reviewed twice, whoever asks",
    source: "FIE 2026, t.62.5",
    about: { video: true },
    log: [left("0:10", "0:12"), review("0:15", "right", "kept"), review("0:20", "video-referee", "kept")],
    finds: [["second-review", "warning", 2]],
  },

  // Cards
  {
    says: "t.162: a red card is a touch for the opponent, never one less for the offender",
    source: "FIE 2026, t.162",
    log: [opening([3, 2]), card("0:10", "left", "red", for_("using the other hand or arm"))],
    score: [3, 3],
  },
  {
    says: "t.162: it may win the bout",
    source: "FIE 2026, t.162",
    log: [
      opening([12, 14]),
      card("0:10", "left", "red", for_("using the other hand or arm")),
      end("0:20", "touches", { winner: "right" }),
    ],
    score: [12, 15],
  },
  {
    says: "t.165: a first group 1 offence is yellow",
    source: "FIE 2026, t.165",
    log: [left("0:10", "0:12"), card("0:20", "right", "yellow", for_("turning the back"))],
  },
  {
    says: "t.165: a second group 1 offence is red, whatever it is",
    source: "FIE 2026, t.165",
    log: [
      card("0:10", "right", "yellow", for_("turning the back")),
      card("0:20", "right", "red", for_("stopping the bout without cause")),
    ],
    score: [1, 0],
  },
  {
    says: "t.165: so a second yellow contradicts it",
    source: "FIE 2026, t.165",
    log: [
      card("0:10", "right", "yellow", for_("turning the back")),
      card("0:20", "right", "yellow", for_("stopping the bout without cause")),
    ],
    finds: [["second-yellow", "warning", 1]],
  },
  {
    says: "t.165: both carded, each who holds a yellow has a finding",
    source: "FIE 2026, t.165",
    log: [card("0:10", "both", "yellow", { group: 1 }), card("0:20", "both", "yellow", { group: 1 })],
    finds: [
      ["second-yellow", "warning", 1],
      ["second-yellow", "warning", 1],
    ],
  },
  {
    says: "t.165: a first group 1 offence is not red",
    source: "FIE 2026, t.165",
    log: [card("0:10", "right", "red", for_("turning the back"))],
    finds: [["red-without-cause", "warning", 0]],
  },
  {
    says: "t.165, t.162.2: after a red of group 2 a first group 1 offence is red",
    source: "FIE 2026, t.165, t.162.2",
    log: [
      card("0:10", "left", "red", for_("no control marks")),
      card("0:20", "left", "red", for_("turning the back")),
    ],
    score: [0, 2],
  },
  {
    says: "t.162.2: only red or black follows red",
    source: "FIE 2026, t.162.2",
    log: [
      card("0:10", "left", "red", for_("no control marks")),
      card("0:20", "left", "yellow", for_("turning the back")),
    ],
    finds: [["yellow-after-red", "warning", 1]],
  },
  {
    says: "t.166: a group 2 offence is red without any yellow before",
    source: "FIE 2026, t.166",
    log: [card("0:10", "left", "red", for_("using the other hand or arm"))],
    score: [0, 1],
  },
  {
    says: "t.166: it is not yellow, the first time either",
    source: "FIE 2026, t.166",
    log: [card("0:10", "left", "yellow", for_("using the other hand or arm"))],
    finds: [["card-against-group", "warning", 0]],
  },
  {
    says: "t.166: nor black the second time",
    source: "FIE 2026, t.166",
    log: [card("0:10", "left", "red", { group: 2 }), card("0:20", "left", "black", { group: 2 })],
    finds: [["card-against-group", "warning", 1]],
  },
  {
    says: "t.167: a first group 3 offence is red, even for one who holds reds",
    source: "FIE 2026, t.167",
    log: [
      card("0:10", "left", "red", for_("no control marks")),
      card("0:20", "left", "red", for_("unsporting behaviour")),
    ],
  },
  {
    says: "t.167: a second group 3 offence is black",
    source: "FIE 2026, t.167",
    log: [
      card("0:10", "left", "red", for_("unsporting behaviour")),
      card("0:20", "left", "red", for_("dishonest fencing")),
    ],
    finds: [["card-against-group", "warning", 1]],
  },
  {
    says: "t.108.2, t.137.2: disturbing order may be black at once",
    source: "FIE 2026, t.108.2, t.137.2",
    log: [
      card("0:10", "left", "black", for_("disturbing order")),
      end("0:20", "exclusion", { winner: "right" }),
    ],
  },
  {
    says: "t.168: a card for people off the piste is none of the fencer's",
    source: "FIE 2026, t.168",
    log: [
      card("0:10", "left", "yellow", for_("turning the back")),
      card("0:20", "left", "yellow", for_("disturbing order off the piste")),
    ],
  },
  {
    says: "t.169: group 4 is black at once",
    source: "FIE 2026, t.169",
    log: [card("0:10", "right", "red", for_("refusing to salute"))],
    finds: [["card-against-group", "warning", 0]],
  },
  {
    says: "t.162, t.159: nobody fences on after black",
    source: "FIE 2026, t.162, t.159",
    log: [card("0:10", "right", "black", for_("violence")), left("0:20", "0:22"), left("0:30", "0:32")],
    finds: [["fencing-after-black", "warning", 1]],
  },
  {
    says: "t.159: the other fencer wins by exclusion",
    source: "FIE 2026, t.159, t.162",
    log: [card("0:10", "right", "black", for_("violence")), end("0:20", "exclusion", { winner: "right" })],
    finds: [["end-against-score", "warning", 1]],
  },
  {
    says: "t.161, t.170: an offence with a star annuls the touch it brought",
    source: "FIE 2026, t.161, t.170 (1.3)",
    log: [left("0:10", "0:12"), card("0:15", "left", "yellow", for_("turning the back"))],
    finds: [["touch-not-annulled", "note", 1]],
  },
  {
    says: "t.161, t.170: one without a star does not",
    source: "FIE 2026, t.161, t.170 (1.7)",
    log: [left("0:10", "0:12"), card("0:15", "left", "yellow", for_("stopping the bout without cause"))],
  },
  {
    says: "t.161: annulled, the score falls back, and the red card adds its touch",
    source: "FIE 2026, t.161, t.166",
    log: [
      opening([5, 5]),
      left("0:10", "0:12", { annulled: "left", for: "card" }),
      card("0:15", "left", "red", for_("using the other hand or arm")),
    ],
    score: [5, 6],
  },
  {
    says: "t.96.3 (2026): a sabre touch with the guard is group 1, yellow",
    source: "FIE 2026, t.96.3",
    about: { weapon: "sabre" },
    log: [card("0:10", "left", "yellow", for_("touch with the guard"))],
  },
  {
    says: "t.96.3 (2026): red for it the first time contradicts the book",
    source: "FIE 2026, t.96.3",
    about: { weapon: "sabre" },
    log: [card("0:10", "left", "red", for_("touch with the guard"))],
    finds: [["red-without-cause", "warning", 0]],
  },
  {
    says: "t.96.3 (2024-25): a sabre touch with the guard is group 2, red",
    source: "FIE 2024-25, t.96.3",
    about: { ...older, weapon: "sabre" },
    log: [card("0:10", "left", "red", for_("touch with the guard"))],
  },
  {
    says: "t.96.3 (2024-25): yellow for it is a note, as the edition's own table says group 1",
    source: "FIE 2024-25, t.96.3 against t.170 (1.12)",
    about: { ...older, weapon: "sabre" },
    log: [card("0:10", "left", "yellow", for_("touch with the guard"))],
    finds: [["card-against-group", "note", 0]],
  },
  {
    says: "t.109 (2026): insulting an official is group 3, red",
    source: "FIE 2026, t.109",
    log: [card("0:10", "left", "red", for_("insulting an official"))],
  },
  {
    says: "t.109 (2026): and not black the first time",
    source: "FIE 2026, t.109, t.167",
    log: [card("0:10", "left", "black", for_("insulting an official"))],
    finds: [["card-against-group", "warning", 0]],
  },
  {
    says: "t.109 (2024-25): insulting an official is group 4, black",
    source: "FIE 2024-25, t.109",
    about: older,
    log: [card("0:10", "left", "black", for_("insulting an official"))],
  },
  {
    says: "t.109 (2024-25): and not red",
    source: "FIE 2024-25, t.109, t.169",
    about: older,
    log: [card("0:10", "left", "red", for_("insulting an official"))],
    finds: [["card-against-group", "warning", 0]],
  },
  {
    says: "t.101.5: crossing the feet is an offence at sabre only",
    source: "FIE 2026, t.101.5",
    log: [card("0:10", "left", "yellow", for_("crossing the feet forward"))],
    finds: [["offence-of-another-weapon", "warning", 0]],
  },
  {
    says: "t.163: an offence in other words can't be checked",
    source: "FIE 2026, t.163, t.170",
    log: [card("0:10", "left", "yellow", for_("talking"))],
    finds: [["free-text-offence", "note", 0]],
  },
  {
    says: "an opening tells the cards held, so a red may follow",
    source: "FIE 2026, t.165",
    log: [
      opening([3, 2], { cards: { left: ["yellow"] } }),
      card("0:10", "left", "red", for_("turning the back")),
    ],
    score: [3, 3],
  },

  // Unwillingness to fight
  {
    says: "t.124 (2026): the first minute without a hit is P-red for both, a touch each way",
    source: "FIE 2026, t.124",
    log: [opening([2, 1]), nothing("0:10", "1:11"), card("1:15", "both", "P-red")],
    score: [3, 2],
  },
  {
    says: "t.124 (2026): there is no P-yellow",
    source: "FIE 2026, t.124; FIE Congress, November 2025, by British Fencing",
    log: [nothing("0:10", "1:11"), card("1:15", "both", "P-yellow")],
    finds: [["p-card-out-of-step", "warning", 1]],
  },
  {
    says: "t.124 (2026): the second is P-black for the lower score, who loses",
    source: "FIE 2026, t.124",
    log: [
      opening([2, 1]),
      nothing("0:10", "1:11"),
      card("1:15", "both", "P-red"),
      nothing("1:20", "2:21"),
      card("2:30", "right", "P-black"),
      end("2:40", "P-black", { winner: "left" }),
    ],
  },
  {
    says: "t.124 (2026): not for the higher",
    source: "FIE 2026, t.124",
    log: [
      opening([2, 1]),
      nothing("0:10", "1:11"),
      card("1:15", "both", "P-red"),
      nothing("1:20", "2:21"),
      card("2:30", "left", "P-black"),
    ],
    finds: [["p-card-out-of-step", "warning", 4]],
  },
  {
    says: "t.124 (2024-25): the first is P-yellow, then P-red, then P-black",
    source: "FIE 2024-25, t.124",
    about: older,
    log: [
      opening([2, 1]),
      nothing("0:10", "1:11"),
      card("1:15", "both", "P-yellow"),
      nothing("1:20", "2:21"),
      card("2:25", "both", "P-red"),
      period("2:30", 2),
      nothing("2:40", "3:41"),
      card("3:45", "right", "P-black"),
    ],
    score: [3, 2],
  },
  {
    says: "t.124 (2024-25): P-red does not come first",
    source: "FIE 2024-25, t.124",
    about: older,
    log: [nothing("0:10", "1:11"), card("1:15", "both", "P-red")],
    finds: [["p-card-out-of-step", "warning", 1]],
  },
  {
    says: "t.124: P-cards are for both fencers but for the last",
    source: "FIE 2026, t.124",
    log: [nothing("0:10", "1:11"), card("1:15", "left", "P-red")],
    finds: [["p-card-out-of-step", "warning", 1]],
  },
  {
    says: "t.124: there are none in pools",
    source: "FIE 2026, t.124; a club's note on the change of 2023",
    about: pool,
    log: [nothing("0:10", "1:11"), card("1:15", "both", "P-red")],
    finds: [["p-card-not-due", "warning", 1]],
  },
  {
    says: "t.124: nor before a minute has passed since the last hit",
    source: "FIE 2026, t.124",
    log: [
      nothing("0:10", "0:40"),
      left("0:45", "0:50"),
      nothing("1:00", "1:30"),
      card("1:35", "both", "P-red"),
    ],
    finds: [["p-card-not-due", "warning", 3]],
  },
  {
    says: "t.124: nor at 14:14",
    source: "FIE 2026, t.124",
    log: [opening([13, 14]), left("0:05", "0:06"), nothing("0:10", "1:11"), card("1:15", "both", "P-red")],
    finds: [["p-card-not-due", "warning", 3]],
  },
  {
    says: "t.124: a minute without a hit and no card is a hint",
    source: "FIE 2026, t.124",
    log: [nothing("0:10", "1:20"), nothing("1:30", "1:35")],
    finds: [["p-card-missing", "note", 1]],
  },
  {
    says: "t.124: a hit off the target starts the minute anew",
    source: "FIE 2026, t.124",
    log: [
      nothing("0:10", "1:00"),
      nothing("1:05", "1:10", { because: "off-target", lamps: { left: "off-target" } }),
      nothing("1:15", "2:00"),
      nothing("2:05", "2:10"),
    ],
  },
  {
    says: "t.124.3.e: P-cards are apart, so a first group 1 offence after P-red is yellow",
    source: "FIE 2026, t.124.3.e",
    log: [
      nothing("0:10", "1:11"),
      card("1:15", "both", "P-red"),
      card("1:30", "left", "yellow", for_("turning the back")),
    ],
  },
  {
    says: "wheelchair: whether there are P-cards was not found, so only a note",
    source: "no wheelchair text found",
    about: wheelchair,
    log: [nothing("0:10", "0:30"), card("0:35", "both", "P-red")],
    finds: [["p-card-not-due", "note", 1]],
  },

  // Seated fencing
  {
    says: "wheelchair t.24: an early start is yellow, then red with the touch annulled",
    source: "French digest; German digests: warning of first order",
    about: wheelchair,
    log: [
      card("0:10", "left", "yellow", for_("early start")),
      left("0:20", "0:22", { play: false, annulled: "left", for: "card" }),
      card("0:25", "left", "red", for_("early start")),
    ],
    score: [0, 1],
  },
  {
    says: "wheelchair t.24: both may be carded at once",
    source: "French digest",
    about: wheelchair,
    log: [card("0:10", "both", "yellow", for_("early start"))],
  },
  {
    says: "wheelchair t.25-26: red for lifting the first time is a note, as its group was not read",
    source: "IWF Book 1, contents; group from memory",
    about: wheelchair,
    log: [card("0:10", "left", "red", for_("lifting from the seat"))],
    finds: [["red-without-cause", "note", 0]],
  },
  {
    says: "wheelchair: a second yellow is a warning, whatever the offences",
    source: "FIE 2026, t.165; French and Swedish texts: yellow, then red",
    about: wheelchair,
    log: [
      card("0:10", "left", "yellow", for_("early start")),
      card("0:20", "left", "yellow", for_("foot off the footrest")),
    ],
    finds: [["second-yellow", "warning", 1]],
  },
  {
    says: "wheelchair: nobody leaves the piste in a chair that is fixed",
    source: "IWAS Wheelchair Fencing, overview page; derived",
    about: wheelchair,
    log: [card("0:10", "left", "yellow", for_("leaving the piste"))],
    finds: [["standing-offence", "note", 0]],
  },
  {
    says: "standing fencers are not re-centred",
    source: "textbook citing IWF t.18; derived",
    log: [stop("0:10", "0:30", "re-centre"), left("0:40", "0:42")],
    finds: [["seated-only", "note", 0]],
  },
  {
    says: "t.45: a medical break lasts 5 minutes at most",
    source: "FIE 2026, t.45",
    log: [stop("0:10", "5:11", "medical"), left("6:40", "6:42")],
    finds: [["break-too-long", "note", 0]],
  },
  {
    says: "wheelchair t.28: a chair may be repaired for 10 minutes",
    source: "textbook chapter citing the IWF rules",
    about: wheelchair,
    log: [stop("0:10", "9:00", "loose chair"), stop("10:00", "20:01", "loose chair")],
    finds: [["break-too-long", "note", 1]],
  },
  {
    says: "before the halt a board shows the score without the phrase's touch",
    source: "FIE 2026, t.37.1, t.59.1; derived",
    log: [left("0:10", "0:14"), { kind: "board", at: at("0:12"), score: [0, 0] }],
    score: [1, 0],
  },
  {
    says: "after the halt a board without the touch disagrees",
    source: "common practice",
    log: [left("0:10", "0:14"), { kind: "board", at: at("0:14"), score: [0, 0] }],
    finds: [["board-disagrees", "warning", 1]],
  },
  {
    says: "a period may have ended in a part that was not recorded",
    source: "FIE 2026, t.39.1; derived",
    log: [
      left("0:00", "2:30"),
      { kind: "gap", at: at("2:31"), until: at("4:00"), score: [3, 3], cards: { left: [], right: [] } },
      left("4:00", "6:00"),
    ],
    score: [4, 3],
  },
  {
    says: "lots may have been drawn in a part that was not recorded",
    source: "FIE 2026, t.40.3; derived",
    log: [opening([9, 9], { period: "extra" }), nothing("0:10", "1:10"), end("1:11", "priority")],
  },
  {
    says: "t.168: a person off the piste gets yellow for group 3, which is no card of the fencer's",
    source: "FIE 2026, t.168",
    log: [
      card("0:10", "left", "yellow", { for: "coach shouts at the referee", group: 3 }),
      card("0:20", "left", "yellow", for_("turning the back")),
    ],
    finds: [["free-text-offence", "note", 0]],
  },
  {
    says: "a double in the extra minute of a pool bout is only a hint: the article speaks of 4:4",
    source: "FIE 2026, t.38.1.b; common practice",
    about: { weapon: "epee", format: "pool", video: false },
    log: [
      opening([3, 3]),
      draw("0:05", "left"),
      period("0:06", "extra"),
      double("0:10", "0:12"),
      end("0:20", "priority", { winner: "left" }),
    ],
    finds: [["double-at-deciding-touch", "note", 3]],
  },
  {
    says: "t.40.3: there is one extra minute at most",
    source: "FIE 2026, t.40.3",
    about: { video: false, format: "pool" },
    log: [draw("3:00", "left"), period("3:01", "extra"), nothing("3:10", "4:10"), period("4:11", "extra")],
    finds: [["period-out-of-turn", "warning", 3]],
  },
  {
    says: "t.124: a hit that was not given, seen by its lamp alone, begins the minute anew",
    source: "FIE 2026, t.124",
    log: [
      nothing("0:00", "0:40"),
      nothing("0:41", "0:50", { lamps: { left: "valid" }, because: "balance" }),
      nothing("1:00", "1:40"),
      left("1:45", "1:50"),
    ],
  },
];

describe("the rules, article by article", () => {
  test.each(bouts.map((each) => [each.says, each] as const))(
    "%s",
    (_, { about = {}, log, score, finds = [] }) => {
      const counted = ledgerOf(about, log);
      expect(findingsOf(counted).map(({ rule, severity, entry }) => [rule, severity, entry])).toEqual(finds);
      if (score !== undefined) expect(counted.end.score).toEqual(score);
    },
  );

  test("each names its source, and no two say the same", () => {
    expect(bouts.length).toBeGreaterThanOrEqual(60);
    expect(new Set(bouts.map(({ says }) => says)).size).toBe(bouts.length);
    for (const { source } of bouts) expect(source.length).toBeGreaterThan(5);
  });
});
