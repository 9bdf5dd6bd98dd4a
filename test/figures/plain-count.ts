// A second way to count a bout, straight from the entries as written and with nothing of the product's own code: what
// a patient person with a sheet of paper would do. For tests only.

type Written = Readonly<Record<string, unknown>>;
type Name = "left" | "right";
const names: readonly Name[] = ["left", "right"];

const canScore = new Set(
  (
    "attack,compound attack,counter-time,riposte,counter-riposte,counter-attack,stop hit," +
    "remise,redoublement,reprise,point in line,derobement"
  ).split(","),
);

const milliseconds = (time: unknown) => {
  const [h = 0, m = 0, s = 0] = String(time).split(":").map(Number);
  return Math.round((h * 3600 + m * 60 + s) * 1000);
};
const list = (value: unknown): string[] => (Array.isArray(value) ? (value as string[]) : []);
const who = (value: unknown): Set<Name> =>
  new Set(value === "both" ? names : names.filter((name) => name === value));
const minus = (set: Set<Name>, other: Set<Name>) => new Set([...set].filter((name) => !other.has(name)));
const actionsOf = (phrase: Written) =>
  list(phrase["actions"]).map((words) => ({
    doers: who(words.split(" ")[0]),
    action: words.slice(words.indexOf(" ") + 1),
  }));
const lit = (phrase: Written, name: Name) => {
  const lamps = (phrase["lamps"] as Written | undefined)?.[name];
  return lamps === "valid" || list(lamps).includes("valid");
};

export interface Told {
  readonly phrase: Written;
  /** Undefined while nothing is decided. */
  touch: Set<Name> | undefined;
}

/** What a review leaves, by its result. */
function reviewed({ phrase, touch }: Told, review: Written): Set<Name> | undefined {
  if (review["award"] === undefined) return touch;
  if (review["result"] === "no picture" && touch !== undefined) return touch;
  return minus(who(review["award"]), minus(who(phrase["annulled"]), who(phrase["award"])));
}

/** How a phrase ended for a side, as the sheet's own definitions put it. */
export function outcomeOfTold({ phrase, touch }: Told, side: Name): string {
  if (touch === undefined) return "not called";
  const other = side === "left" ? "right" : "left";
  if (touch.has(side)) return touch.has(other) ? "each" : "for";
  if (touch.has(other)) return "against";
  const because = typeof phrase["because"] === "string" ? phrase["because"] : "";
  const lamps = JSON.stringify(phrase["lamps"] ?? {});
  const valid = names.filter((name) => lit(phrase, name)).length;
  if (phrase["annulled"] !== undefined && phrase["award"] !== "none") return "halted";
  if (["early start", "balance", "lifted", "loose chair or lead", "time", "equipment"].includes(because))
    return "halted";
  if (/simultaneous|undecided|double/.test(because) || valid === 2) return "both lamps";
  if (because === "off-target" || lamps.includes("off-target")) return "off target";
  if (valid === 1) return "not given";
  if (list(phrase["actions"]).some((words) => /parry$/.test(words))) return "parried";
  if (because === "no lamp") return "missed";
  return phrase["lamps"] === undefined || because === "unseen" ? "not told" : "missed";
}

/** The order of the touches that one side alone has, as letters; a bar where a part was not recorded. */
function orderOf(log: readonly Written[], told: readonly Told[]): string {
  return log
    .map((entry) => {
      if (entry["kind"] === "gap" || entry["kind"] === "opening") return "|";
      const touch = told.find(({ phrase }) => phrase === entry)?.touch;
      return touch?.size === 1 ? (touch.has("left") ? "l" : "r") : "";
    })
    .join("");
}

export function plainCount(
  log: readonly Written[],
  about: { readonly format: string; readonly video?: boolean | undefined },
) {
  const start = { pool: 1, elimination: 2, veterans: 2 }[about.format] ?? null;
  const numbers = (fill: number | null) => ({ left: fill, right: fill });
  const appeals: Record<Name, number | null> = numbers(about.video === false ? null : start);
  const score = { left: 0, right: 0 };
  const penalty = { left: 0, right: 0 };
  const unseen = { left: 0, right: 0 };
  const corrected = { left: 0, right: 0 };
  const cards: Record<Name, string[]> = { left: [], right: [] };
  const told: Told[] = [];
  let last: Told | undefined;
  let ended = false;
  // The score was set by hand since the last phrase; what a review changes then is booked against that.
  let setBy: Record<Name, number> | undefined;
  const reviews: Written[] = [];

  const add = (touch: Set<Name> | undefined, sign: number) => touch?.forEach((name) => (score[name] += sign));
  for (const entry of log) {
    const pair = (entry["score"] ?? entry["appeals"]) as [number, number] | undefined;
    switch (entry["kind"]) {
      case "phrase": {
        const { award } = entry;
        const decided = award !== undefined && award !== "pending";
        last = { phrase: entry, touch: decided ? minus(who(award), who(entry["annulled"])) : undefined };
        if (!ended) {
          setBy = undefined;
          told.push(last);
          add(last.touch, 1);
        }
        break;
      }
      case "review": {
        if (ended) break;
        reviews.push(entry);
        const by = entry["by"] as Name;
        if (names.includes(by) && entry["result"] === "kept") {
          const left = appeals[by];
          if (left !== null) appeals[by] = Math.max(0, left - 1);
        }
        if (last === undefined) break;
        const before = { ...score };
        add(last.touch, -1);
        last.touch = reviewed(last, entry);
        add(last.touch, 1);
        if (setBy !== undefined)
          for (const name of names) {
            setBy[name] -= score[name] - before[name];
            score[name] = before[name];
          }
        break;
      }
      case "card":
        for (const name of who(entry["to"])) {
          const card = String(entry["card"]);
          const other = name === "left" ? "right" : "left";
          cards[name].push(card);
          if (ended || (card !== "red" && card !== "P-red")) continue;
          score[other]++;
          penalty[other]++;
        }
        break;
      case "correction":
      case "opening":
      case "gap": {
        if (ended) break;
        const account = entry["kind"] === "correction" ? corrected : unseen;
        setBy = account;
        names.forEach((name, index) => {
          const now = pair?.[index] ?? 0;
          account[name] += now - score[name];
          score[name] = now;
          const left = (entry["appeals"] as [number, number] | undefined)?.[index];
          if (left !== undefined && about.video !== false) appeals[name] = left;
          const held = (entry["cards"] as Partial<Record<Name, string[]>> | undefined)?.[name];
          if (held !== undefined) cards[name] = [...held];
        });
        break;
      }
      case "end":
        ended = true;
        break;
    }
  }

  const closed = told.filter(({ phrase }) => phrase["halt"] !== undefined);
  const fencing = closed
    .filter(({ phrase }) => phrase["play"] !== false)
    .map(({ phrase }) => Math.max(0, milliseconds(phrase["halt"]) - milliseconds(phrase["start"])))
    .reduce((sum, time) => sum + time, 0);

  const scoredBy = ({ phrase, touch }: Told, name: Name): string | undefined => {
    if (touch?.has(name) !== true) return undefined;
    if (typeof phrase["scored"] === "string") return phrase["scored"];
    const able = actionsOf(phrase).filter(({ doers, action }) => doers.has(name) && canScore.has(action));
    return able.at(-1)?.action ?? "untagged";
  };
  const opener = ({ phrase }: Told) => actionsOf(phrase).find(({ action }) => canScore.has(action))?.doers;

  const side = (name: Name) => {
    const other = name === "left" ? "right" : "left";
    const touchesByAction: Record<string, number> = {};
    for (const each of told) {
      const action = scoredBy(each, name);
      if (action !== undefined) touchesByAction[action] = (touchesByAction[action] ?? 0) + 1;
    }
    const attempts: Record<string, [number, number]> = {};
    for (const action of canScore) {
      const used = closed.filter(({ phrase }) =>
        actionsOf(phrase).some((each) => each.doers.has(name) && each.action === action),
      );
      const scored = used.filter((each) => scoredBy(each, name) === action);
      if (used.length > 0) attempts[action] = [scored.length, used.length];
    }
    const opened = closed.filter((each) => {
      const doers = opener(each);
      return doers?.has(name) === true && !doers.has(other);
    });
    const asked = reviews.filter((entry) => entry["by"] === name);
    const results = asked.map((entry) => entry["result"]);
    const held: Record<string, number> = { yellow: 0, red: 0, black: 0 };
    for (const card of cards[name]) held[card] = (held[card] ?? 0) + 1;
    return {
      touches: told.filter(({ touch }) => touch?.has(name)).length,
      penaltyTouches: penalty[name],
      unseenTouches: unseen[name],
      correctedTouches: corrected[name],
      touchesByAction,
      attempts,
      opened: {
        phrases: opened.length,
        for: opened.filter(({ touch }) => touch?.has(name)).length,
        against: opened.filter(({ touch }) => touch?.has(other)).length,
        nothing: opened.filter(({ touch }) => touch === undefined || touch.size === 0).length,
      },
      appeals: [
        asked.length,
        results.filter((result) => result === "changed").length,
        appeals[name],
        results.filter((result) => result !== "no picture").length,
      ],
      cards: held,
    };
  };

  const bothLit = closed.filter(({ phrase }) => names.every((name) => lit(phrase, name)));
  const lampsBy = (wanted: string) =>
    bothLit.filter(({ touch }) => [...(touch ?? [])].toSorted().join() === wanted).length;
  const officials = reviews.filter((entry) => !names.includes(entry["by"] as Name));
  const officially = (result: string) => officials.filter((entry) => entry["result"] === result).length;
  return {
    closed,
    order: orderOf(log, closed),
    score: [score.left, score.right],
    phrases: closed.length,
    fencingSeconds: fencing / 1000,
    tagged: closed.filter(({ phrase }) => list(phrase["actions"]).length > 0).length,
    left: side("left"),
    right: side("right"),
    bothLamps: {
      left: lampsBy("left"),
      right: lampsBy("right"),
      both: lampsBy("left,right"),
      neither: lampsBy(""),
    },
    byOfficials: {
      asked: officials.length,
      changed: officially("changed"),
      decided: officially("decided"),
    },
  };
}
