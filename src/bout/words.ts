// The trade's words a bout file may use, and what each family of them means for the score.

export const sides = ["left", "right"] as const;
export type Side = (typeof sides)[number];

export const doers = ["left", "right", "both"] as const;
/** Who does an action, gets a card or is given a touch: one side or both. */
export type Doer = (typeof doers)[number];

export function opponent(side: Side): Side {
  return side === "left" ? "right" : "left";
}

/** The sides a doer stands for: `both` is left, then right. */
export function sidesOf(doer: Doer): readonly Side[] {
  return doer === "both" ? sides : doer === "left" ? leftOnly : rightOnly;
}
const leftOnly: readonly Side[] = ["left"];
const rightOnly: readonly Side[] = ["right"];

/** Actions that can score, by family; the terms are those of FIE t.8-t.15 (August 2026). */
export const families = {
  attack: ["attack", "compound attack", "counter-time"],
  riposte: ["riposte", "counter-riposte"],
  "counter-attack": ["counter-attack", "stop hit"],
  renewal: ["remise", "redoublement", "reprise"],
  line: ["point in line", "derobement"],
} as const;
export type Family = keyof typeof families;
export type ScoringAction = (typeof families)[Family][number];

export const otherActions = [
  "parry",
  "counter-parry",
  "beat",
  "taking the blade",
  "feint",
  "preparation",
  "lean back",
  "lean in",
] as const;
export type OtherAction = (typeof otherActions)[number];

export type Action = ScoringAction | OtherAction;

export const scoringActions: readonly ScoringAction[] = Object.values(families).flat();
export const actions: readonly Action[] = [...scoringActions, ...otherActions];

const familyByAction = new Map<string, Family>(
  (Object.keys(families) as Family[]).flatMap((family) =>
    families[family].map((action) => [action, family] as const),
  ),
);

/** The family of an action that can score; undefined for parries, feints and the like. */
export function familyOf(action: Action): Family | undefined {
  return familyByAction.get(action);
}

export function canScore(action: Action): action is ScoringAction {
  return familyByAction.has(action);
}

/** An action with its doer, as written: "left attack". */
export type ActionWords = `${Doer} ${Action}`;
export const actionWords = doers.flatMap((doer) =>
  actions.map((action) => `${doer} ${action}` as const),
) as readonly ActionWords[];

export interface DoneAction {
  readonly doer: Doer;
  readonly action: Action;
}
const doneByWords = new Map<ActionWords, DoneAction>(
  doers.flatMap((doer) => actions.map((action) => [`${doer} ${action}`, { doer, action }] as const)),
);

/** Takes "left attack" apart. The words come from the schema, so an unknown one is a bug and throws. */
export function doneAction(words: ActionWords): DoneAction {
  const done = doneByWords.get(words);
  if (done === undefined) throw new RangeError(`no such action: ${words}`);
  return done;
}

export const weapons = ["foil", "epee", "sabre"] as const;
export type Weapon = (typeof weapons)[number];

/** As a sentence has it. */
export function weaponName(weapon: Weapon): string {
  return weapon === "epee" ? "épée" : weapon;
}

export const formats = ["pool", "elimination", "veterans", "training"] as const;
export type Format = (typeof formats)[number];

export const lamps = ["valid", "off-target", "fault"] as const;
export type Lamp = (typeof lamps)[number];

export const awards = ["left", "right", "both", "none", "pending"] as const;
export type Award = (typeof awards)[number];
/** What stands in the end: who has the touch, nobody, or not yet decided. */
export type Standing = Exclude<Award, "pending">;

export const reasonsForNone = [
  "off-target",
  "simultaneous",
  "undecided",
  "no lamp",
  "unseen",
  "double at the deciding touch",
  "early start",
  "balance",
  "lifted",
  "loose chair or lead",
  "time",
  "equipment",
] as const;
export const reasonsForAnnulment = [
  "card",
  "before play",
  "after halt",
  "balance",
  "weapon fault",
  "not on the opponent",
] as const;

export const reviewers = ["left", "right", "referee", "video-referee", "level score"] as const;
export type Reviewer = (typeof reviewers)[number];
export const reviewResults = ["changed", "kept", "decided", "no picture"] as const;
export type ReviewResult = (typeof reviewResults)[number];

export const cardColours = ["yellow", "red", "black", "P-yellow", "P-red", "P-black"] as const;
export type CardColour = (typeof cardColours)[number];

export const stopReasons = [
  "re-centre",
  "distance",
  "equipment",
  "weapon change",
  "blade straightening",
  "weapon test",
  "connection check",
  "apron lead",
  "medical",
  "disability",
  "balance",
  "loose chair",
  "lifting check",
  "score check",
  "referee talk",
  "other",
] as const;
export type StopReason = (typeof stopReasons)[number];
export const stoppers = ["left", "right", "referee", "left assistant", "right assistant", "table"] as const;

export const endings = [
  "touches",
  "time",
  "deciding touch",
  "priority",
  "withdrawal",
  "exclusion",
  "P-black",
  "chair failure",
] as const;
export type Ending = (typeof endings)[number];

export const periodNumbers = [1, 2, 3, "extra"] as const;
export type PeriodNumber = (typeof periodNumbers)[number];
