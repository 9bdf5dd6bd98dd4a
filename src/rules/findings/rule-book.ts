// Every rule a finding can name, and what kind of thing it is about: that says which remedies make sense, and that its
// page `media/rules/RULE.md` has to be there.

/** text: the file can't be read as written. slip: an entry can't be as tagged. officials: the file tells of something
 * the rules don't know, which may well have happened. untagged: something is still to be written down. */
export type Concern = "text" | "slip" | "officials" | "untagged";

export const ruleBook = {
  "not-json": "text",
  "not-a-bout-file": "text",
  "duplicate-key": "text",
  "later-version": "text",
  missing: "text",
  "wrong-value": "text",
  "unknown-field": "text",
  "unknown-kind": "text",
  "unknown-edition": "text",
  "edition-file": "text",

  "out-of-order": "slip",
  "halt-before-start": "slip",
  "over-before-it-began": "slip",
  overlap: "slip",
  "phrase-after-end": "slip",
  "entry-after-end": "officials",
  "phrase-in-replay": "slip",
  "period-too-long": "slip",
  "period-out-of-turn": "slip",
  "missing-sabre-break": "slip",

  "two-touches": "slip",
  "award-without-lamp": "officials",
  "lamp-not-of-weapon": "slip",
  "touch-without-command": "officials",
  "double-at-deciding-touch": "officials",
  "fencing-after-last-touch": "officials",
  "end-against-score": "officials",
  "missing-draw": "officials",

  "board-disagrees": "officials",
  "penalty-touch-not-on-board": "officials",

  "second-yellow": "officials",
  "yellow-after-red": "officials",
  "red-without-cause": "officials",
  "card-against-group": "officials",
  "fencing-after-black": "officials",
  "touch-not-annulled": "officials",
  "free-text-offence": "untagged",
  "offence-of-another-weapon": "officials",
  "standing-offence": "officials",
  "seated-only": "officials",
  "p-card-out-of-step": "officials",
  "p-card-not-due": "officials",
  "p-card-missing": "officials",

  "review-without-phrase": "slip",
  "review-without-video": "officials",
  "second-review": "officials",
  "appeal-with-none-left": "officials",
  "appeal-shown-wrong": "officials",
  "changed-without-call": "slip",
  "review-result-disagrees": "slip",
  "review-after-correction": "officials",
  "level-score-without-review": "officials",

  "break-too-long": "officials",

  "unusable-fit": "slip",
  "mirrored-fit": "slip",
  "unusable-platforms": "slip",
  "swapped-platforms": "slip",
  "platforms-outside-picture": "slip",

  "not-halted": "untagged",
  "not-yet-called": "untagged",
  "pending-award": "untagged",
  "lamps-not-recorded": "untagged",
  "nothing-recorded": "untagged",
  "edition-of-another-time": "untagged",
} as const satisfies Record<string, Concern>;

export type RuleId = keyof typeof ruleBook;

export function isRuleId(rule: string): rule is RuleId {
  return Object.hasOwn(ruleBook, rule);
}

/** The file in `media/rules/` that explains a rule. */
export function pageOf(rule: string): string {
  return `${rule}.md`;
}
