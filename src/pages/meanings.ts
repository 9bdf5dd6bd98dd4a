// What every figure of a sheet means, how it is worked out, where the formula comes from, and when not to believe it.
// media/figures.md is made from this, and so is the end of a sheet that stands on its own.

import { outcomeDefinitions } from "../figures";
import { sectionNames, sectionTitles, type SectionName } from "./section";

export interface Meaning {
  readonly means: readonly string[];
  readonly formula: readonly string[];
  readonly source: readonly string[];
  readonly doubt: readonly string[];
}

const wilson =
  "Limits of a share x of n: E. B. Wilson, Journal of the American Statistical Association 22 (1927) 209-212.";
const exactShare = "Exact limits of a share: Clopper and Pearson, Biometrika 26 (1934) 404-413.";
const paired =
  "Net touches: method 10 for paired shares, Newcombe, Statistics in Medicine 17 (1998) 2635-2650.";
const median =
  "Limits of a middle value by the order of the values: Thompson, Annals of Mathematical Statistics 7 (1936) 122-128.";
const own = "Counting; there is no formula behind it.";
const practice = "Common practice, no source.";

/** Said once for all figures, before the rest. */
export const meaningOfLimits: readonly string[] = [
  "Every share is given as x of n: how often something happened, of how many times it could have. The percentage is x divided by n; from fewer than five it is left out, since it would say more than the count.",
  "The limits beside it are 95 % limits. Had the two fencers gone on in the same way for ever, the true share would lie outside such limits on about one sheet in twenty. Wide limits mean: too few phrases to tell. They say nothing about mistakes in the tagging.",
  "The side that opened a phrase is that of the first action that can score. What stands counts: after reviews and annulments. A touch of a red card belongs to the score and to no figure about phrases. Phrases without actions are left out of figures about actions, never counted as none.",
];

export const meanings: Readonly<Record<SectionName, Meaning>> = {
  score: {
    means: [
      "The score after each phrase, with cards, reviews and stops at their place between phrases. It comes from the ledger: touches that stand, touches of red cards, corrections by the officials, and what a recording that starts late says of the score before it.",
    ],
    formula: [own],
    source: ["The rule edition named at the top of the sheet says what a card costs and when a bout ends."],
    doubt: [
      "Where the findings say that a scoreboard showed something else. The scale of the drawing is in phrases, not in time.",
    ],
  },
  phrases: {
    means: [
      "Every phrase with its time in the recording, the actions as tagged, the lamps that were lit, who has the touch in the end and the score after it. Lines between them are cards, reviews, stops and other things that happened between two phrases.",
    ],
    formula: [own],
    source: [practice],
    doubt: ["Where a phrase is marked as not sure, or the lamps were not recorded."],
  },
  opened: {
    means: [
      "Who committed first, and how the phrase ended. Each phrase stands once: in the column of who opened it, in the row of how it ended. The first row that fits, from the top of this list, is the one:",
      ...outcomeDefinitions.map(({ title, means }) => `${title}: ${means}.`),
      "Net touches in 10 phrases are the opener's touches less those against, for ten phrases of that kind.",
    ],
    formula: [
      "Share: x / n with Wilson limits. Net: 10 (f - a) / n for f touches for and a against in n phrases, with Newcombe's limits for two outcomes of the same phrases.",
    ],
    source: [wilson, paired],
    doubt: [
      "When many phrases have no actions, or one tagger sees preparations as attacks and another does not: have a second person tag the bout and compare. Which column a phrase stands in depends on its first tagged action alone.",
    ],
  },
  touches: {
    means: [
      "Touches that stood in phrases, and those of cards, of parts that were not recorded and of the officials' corrections apart; the four add up to the score. The action of a touch is the fencer's last action that can score, unless the file names another. Attempts that scored: of the phrases in which the fencer used the action, those in which it brought the touch.",
    ],
    formula: [
      "Shares x / n with Wilson limits. Touches per minute: touches divided by fencing time from the command to fence to the halt, with exact limits of a count.",
    ],
    source: [wilson, "Exact limits of a count over time: Garwood, Biometrika 28 (1936) 437-442."],
    doubt: [
      "How often an action scored is given only where nine in ten phrases have actions: else the phrases that were tagged may be the memorable ones. Targets speak only of the touches that have one. A fencer who is ahead fences otherwise than one who is behind: shares of one bout don't carry over to another.",
    ],
  },
  families: {
    means: [
      "Of the phrases in which a fencer used an action of a family: those in which it brought the touch, those in which the fencer was hit, and net touches in ten such phrases. Families: attack (with compound attack and counter-time), riposte (with counter-riposte), counter-attack (with stop hit), renewal (remise, redoublement, reprise), line (point in line, derobement).",
    ],
    formula: ['Shares x / n with Wilson limits; net as under "Who committed first".'],
    source: [wilson, paired, "The terms are those of the FIE's technical rules t.8 to t.15 (August 2026)."],
    doubt: [
      "A phrase with two families stands in both rows, so rows can't be added up. A riposte exists only after a parry that worked: its share is not to be held against that of the attack.",
    ],
  },
  answers: {
    means: [
      "The first action of a phrase and the one after it, whoever did it, with the phrases in which that happened and whose touch they were. Parries, beats and taking the blade, feints and preparations, and leaning stand in groups of their own.",
    ],
    formula: [own],
    source: [practice],
    doubt: [
      "Most cells hold one or two phrases: they show what happened, not what would happen again. No percentages are given for that reason.",
    ],
  },
  lamps: {
    means: [
      "Phrases with a valid lamp on both sides, by who opened them and who was given the touch: the plainest figure of priority. At épée a touch for both needs no priority, and its share of all phrases is told.",
    ],
    formula: [
      'Shares x / n with Wilson limits. "Given to the one who opened" leaves out phrases both or nobody opened and those without a touch.',
    ],
    source: [wilson],
    doubt: [
      "The share says how often the referee gave it to the fencer the tagger saw opening, not who was right. Lamps that were not recorded are left out.",
    ],
  },
  reviews: {
    means: [
      'Every review: who asked, what became of the call, which action and which lamps it was about, the score when it was asked, how far it moved the difference of the scores towards the one who asked (swung), and the seconds from the asking to the next command to fence. Cards with what they cost. "Both lamps lost, not appealed": both lamps were lit, the other fencer was given the touch and nobody asked.',
    ],
    formula: [
      "Granted: changed calls of the appeals that had a picture, with exact limits. An appeal whose call is changed to anything is granted. Time taken: the middle of the lengths.",
    ],
    source: [exactShare, median],
    doubt: [
      "A bout has a handful of appeals: the limits nearly fill the bar. A changed call is no measure of the referee, and time includes whatever else happened before the next command.",
    ],
  },
  flow: {
    means: [
      "How often the lead passed from one fencer to the other, and the largest leads. A run is an unbroken series of touches of one fencer. Each count of the order stands beside what the same touches give in other orders: expected is the mean, and 95 of 100 orders lie within the range beside it. Tempo: the middle length of phrases and of the pauses between them. Stops by who asked and what for.",
    ],
    formula: [
      "Runs and longest runs: worked out over every order of the same touches; where part of the bout was not recorded, over 10,000 shuffled orders. Middle values with limits by the order of the values, from six on.",
    ],
    source: [
      "Runs: Wald and Wolfowitz, Annals of Mathematical Statistics 11 (1940) 147-162.",
      'Why "scores after being hit" can\'t be held against one half: Miller and Sanjurjo, Econometrica 86 (2018) 2019-2047.',
      median,
    ],
    doubt: [
      "A count inside its range is what chance gives. Leading and trailing are described here, never explained. Pauses include everything between the halt and the next command.",
    ],
  },
  comparisons: {
    means: [
      'Whether a difference is larger than chance would make it: between the two fencers, between the halves of the bout (by number of phrases), and of the order of touches. Every comparison that was tried is listed, whatever came out. Points are percentage points. "No difference that 14 phrases could show" does not say that the two are equal: so few phrases can\'t show it.',
    ],
    formula: [
      "Two shares: Newcombe's difference and Fisher's exact test. Two outcomes of the same phrases: Newcombe's paired difference and the exact sign test. Two counts over time: exact ratio and test. p is corrected by Holm over all that were tried; below 0.05 counts as more than chance.",
    ],
    source: [
      "Difference of shares: Newcombe, Statistics in Medicine 17 (1998) 873-890; of the same phrases: 2635-2650.",
      "Exact test: Fisher, Journal of the Royal Statistical Society 98 (1935) 39-54; two-sided as Freeman and Halton, Biometrika 38 (1951) 141-149.",
      "Ratio of two rates: Przyborowski and Wilenski, Biometrika 31 (1940) 313-323.",
      "Correction: Holm, Scandinavian Journal of Statistics 6 (1979) 65-70.",
    ],
    doubt: [
      "When you look for a difference only after you have seen it. When phrases hang together, as after a change of tactics, they are fewer than they look. One bout compares two fencers on one day, against one opponent.",
    ],
  },
  tags: {
    means: [
      "Phrases with a word of your own, and whose touch they were. What a word means is printed as it stands in tags.json beside the bout file.",
    ],
    formula: ["Shares x / n with Wilson limits."],
    source: [wilson],
    doubt: [
      "Where a word has no definition, or was given to the phrases one remembered. A phrase without the word was perhaps never looked at for it.",
    ],
  },
  drift: {
    means: [
      "How far the two platforms moved between two places where they were marked, along the piste and across it, how they turned against each other, and how the gap between their inner corners changed. A step with a stop for re-centre or distance in it is left out.",
    ],
    formula: [
      "Clicked points are carried to the floor by the fit of the picture. Drift a phrase: the sum of the moves divided by the sum of the phrases, with limits from how much the steps differ. The error of a single move comes from a click error of a thousandth of the picture.",
    ],
    source: [
      "Image to floor: Hartley and Zisserman, Multiple View Geometry (2nd ed. 2004), algorithm 4.2.",
      "Ratio of two sums: Cochran, Sampling Techniques (3rd ed. 1977), chapter 6.",
      "Click error of a thousandth of the picture: common practice, no source.",
    ],
    doubt: [
      "With a fit of two points only the move along the piste can be told. When the camera was moved or zoomed without a new fit. When the platforms were marked while the fencers moved.",
    ],
  },
  findings: {
    means: [
      "What in the file contradicts itself, the rules or the evidence: an error, a warning, or a note.",
    ],
    formula: ["Rules of the edition named at the top of the sheet, each with its article."],
    source: ["Named with each finding."],
    doubt: [
      "A finding says that two things don't fit, not which of them is wrong. What really happened can be confirmed in the file; the finding then becomes a note.",
    ],
  },
};

/** Of `boutline agree`; no sheet has it. */
const agreementOfClass: Meaning = {
  means: [
    "How often each reader of a seminar pack answers as its reference, and how far all readers say the same as each other, part by part: why halt, who opened, actions, hits, whose touch, the offence and the card apart. The call is whose touch, or all duties on the assistants' paper.",
    "Kappa and alpha are agreement beyond chance: 1 where all say the same, 0 where they agree as often as people would who only kept to their habits, below 0 where less. Clips for discussion have no reference; they count among the readers only. A clip and its repeat count once; the repeat tells whether a reader says the same again.",
  ],
  formula: [
    "Against the reference: the share of clips answered as it, with Wilson's limits, and Cohen's kappa over the clips both have answered, with its large-sample limits.",
    "All readers: Fleiss' kappa over the clips that everybody answered, with Gwet's variance over the clips and Student's t; Krippendorff's alpha for words without an order over all clips with two answers or more. Alpha's limits come from 2,000 seeded draws of the clips, corrected for lying off the middle (BCa) and widened for few clips.",
    "In simulated classes of 3 to 12 readers on 12 and 30 clips such limits of alpha hold the truth 91 to 100 times of 100, those of Fleiss' kappa 89 to 99 times (test/statistics/coverage.test.ts runs the like again).",
    "As live against at the monitor: the difference of the shares right, by readers who sat both ways, with limits for pairs that take the answers of one reader as if they were independent.",
  ],
  source: [
    "Cohen, Educational and Psychological Measurement 20 (1960) 37-46; limits: Fleiss, Cohen and Everitt, Psychological Bulletin 72 (1969) 323-327.",
    "Fleiss, Psychological Bulletin 76 (1971) 378-382; limits: Gwet, Educational and Psychological Measurement 81 (2021) 781-790.",
    "Krippendorff, Content Analysis (2nd ed. 2004), section 11.3; limits: Efron, Journal of the American Statistical Association 82 (1987) 171-185; Hesterberg, The American Statistician 69 (2015) 371-386.",
    "Pairs: method 10 of Newcombe, Statistics in Medicine 17 (1998) 2635-2650.",
  ],
  doubt: [
    "With a dozen clips the limits are wide: no ground for ranking readers whose limits overlap. Where nearly all clips have the same answer, kappa and alpha are low or can't be said however much all agree; look at the share. A reference of one person is an opinion. Agreement with a reference is not skill at the piste; the rule book in force and licensed officials decide.",
  ],
};

/** media/figures.md: the same for every sheet. */
export function meaningsPage(): string {
  const part = (title: string, { means, formula, source, doubt }: Meaning) => [
    `## ${title}`,
    ...means,
    "**How it is worked out**",
    ...formula,
    "**Where it comes from**",
    ...source,
    "**When not to believe it**",
    ...doubt,
  ];
  const parts = [
    ...sectionNames.map((name) => part(sectionTitles[name], meanings[name])),
    part("Agreement of a class", agreementOfClass),
  ];
  return `${["# What the figures mean", ...meaningOfLimits, ...parts.flat()].join("\n\n")}\n`;
}
