// A second way to count the tables of a sheet, from the entries as written and what `plainCount` says of the touches.
// For tests only.

import { outcomeOfTold, type Told } from "./plain-count";

type Name = "left" | "right";

/** How often each outcome occurs for each side, by who opened; and first action against second. */
export function plainTables(told: readonly Told[]) {
  const opened = new Map<string, number>();
  const answers = new Map<string, number>();
  const targets = new Map<string, number>();
  const tags = new Map<string, number>();
  for (const each of told) {
    for (const side of ["left", "right"] as const) {
      add(opened, `${side}/${openedBy(each, side)}/${outcomeOfTold(each, side)}`);
      const { target } = each.phrase;
      if (each.touch?.has(side) === true && typeof target === "string" && target.trim() !== "")
        add(targets, `${side}/${target}`);
    }
    const [first, second] = (each.phrase["actions"] ?? []) as string[];
    if (first !== undefined) add(answers, `${grouped(first)}/${second === undefined ? "" : grouped(second)}`);
    for (const tag of new Set((each.phrase["tags"] ?? []) as string[])) if (tag.trim() !== "") add(tags, tag);
  }
  // A tag may be called "valueOf" or "__proto__".
  const plainly = (counts: ReadonlyMap<string, number>): Record<string, number> => Object.fromEntries(counts);
  return {
    opened: plainly(opened),
    answers: plainly(answers),
    targets: plainly(targets),
    tags: plainly(tags),
  };
}

function add(counts: Map<string, number>, key: string): void {
  counts.set(key, (counts.get(key) ?? 0) + 1);
}

const scoring =
  /^(attack|compound attack|counter-time|riposte|counter-riposte|counter-attack|stop hit|remise|redoublement|reprise|point in line|derobement)$/;

function openedBy({ phrase }: Told, side: Name): string {
  const actions = (phrase["actions"] ?? []) as string[];
  if (actions.length === 0) return "untagged";
  const first = actions.find((words) => scoring.test(words.slice(words.indexOf(" ") + 1)));
  const doer = first?.split(" ")[0];
  return doer === undefined ? "nobody" : doer === "both" ? "both" : doer === side ? "own" : "opponent";
}

const groups: readonly (readonly [RegExp, string])[] = [
  [/^(attack|compound attack|counter-time)$/, "attack"],
  [/^(riposte|counter-riposte)$/, "riposte"],
  [/^(counter-attack|stop hit)$/, "counter-attack"],
  [/^(remise|redoublement|reprise)$/, "renewal"],
  [/^(point in line|derobement)$/, "line"],
  [/parry$/, "parry"],
  [/^(beat|taking the blade)$/, "blade"],
  [/^(feint|preparation)$/, "preparation"],
  [/^lean (back|in)$/, "lean"],
];

function grouped(words: string): string {
  const [doer = ""] = words.split(" ");
  const action = words.slice(doer.length + 1);
  return `${doer} ${groups.find(([pattern]) => pattern.test(action))?.[1] ?? "?"}`;
}
