// What the numbers of a class say in plain words; the command and the page say the same.

import type { ClassAgreement, Together } from "../figures/class-agreement";
import { counted, decimal } from "./numbers";

/** A line for each part that something differs on, and one for all the others. */
export function verdicts(together: readonly Together[]): readonly string[] {
  const agreed = together.filter(({ clips, split }) => clips.length > 0 && split.length === 0);
  const others = together.filter((one) => !agreed.includes(one)).map(verdict);
  if (agreed.length < 2) return [...others, ...agreed.map(verdict)];
  const titles = agreed.map(({ title }) => title);
  const named = `${titles.slice(0, -1).join(", ")} and ${titles.at(-1) ?? ""}`;
  return [...others, `The class is of one mind in every clip on ${named}.`];
}

/** Whether a class agrees on a part, as far as the limits let one say. */
export function verdict(part: Together): string {
  return wordsOf(part).sentence;
}

/** The same in a row of a table that names the part. */
export function verdictInRow(part: Together): string {
  return wordsOf(part).inRow;
}

function wordsOf({ title, alpha: { value, low }, clips, split }: Together): {
  readonly sentence: string;
  readonly inRow: string;
} {
  if (clips.length === 0)
    return {
      sentence: `Nobody can be compared on ${title}: no clip has two answers.`,
      inRow: "no clip has two answers",
    };
  if (split.length === 0)
    return {
      sentence: `The class is of one mind on ${title} in every clip.`,
      inRow: "of one mind in every clip",
    };
  if (value === null || low === null)
    return {
      sentence: `There is too little to tell whether the class agrees on ${title}.`,
      inRow: "too little to tell",
    };
  if (low <= 0)
    return {
      sentence: `The class agrees no better than chance can explain on ${title}.`,
      inRow: "no better than chance can explain",
    };
  const differs = `differs in ${split.length} of ${counted(clips.length, "clip")}`;
  return {
    sentence: `The class agrees better than chance on ${title}; it ${differs}.`,
    inRow: `better than chance; ${differs}`,
  };
}

/** `0.74 (0.52 to 0.90)`; a dash where there is nothing to tell. */
export function coefficient(one: {
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}): string {
  if (one.value === null) return "\u2013";
  const limits =
    one.low === null || one.high === null ? "no limits" : `${decimal(one.low, 2)} to ${decimal(one.high, 2)}`;
  return `${decimal(one.value, 2)} (${limits})`;
}

/** Sureness as the paper asks for it, from 1 to 4. */
export const sureWords = ["guessing", "rather unsure", "rather sure", "certain"] as const;

export const wayWords = { live: "as live", monitor: "at the monitor" } as const;

export function passText({ passed }: ClassAgreement["sittings"][number]): string {
  return passed === null ? "no pass mark" : passed ? "pass" : "below the pass mark";
}

/** What the two ways differ by, and how far that can be trusted. */
export function waysText({ difference }: NonNullable<ClassAgreement["ways"]>): string {
  const points = (share: number): string => decimal(share * 100, 0);
  const told =
    difference.low > 0
      ? "Calls as live are right more often than those at the monitor"
      : difference.high < 0
        ? "Calls at the monitor are right more often than those as live"
        : "Nothing tells calls as live from those at the monitor";
  return `${told}: ${points(difference.value)} points (${points(difference.low)} to ${points(difference.high)}), as live less at the monitor. The limits take the answers of one reader as if they were independent.`;
}

export const meaningOfAgreement: readonly string[] = [
  "The call is whose touch, or all duties on the assistants' paper. Percentages have Wilson limits (Journal of the American Statistical Association 22 (1927) 209-212). All limits are 95 % limits.",
  "Kappa and alpha are 1 for full agreement and 0 for what chance alone would give. Against the reference: Cohen's kappa (1960), limits of Fleiss, Cohen and Everitt (1969). All readers: Fleiss' kappa (1971) over clips that all answered, limits of Gwet (2021); Krippendorff's alpha (2004) over all clips with two answers or more, limits from 2,000 seeded draws of the clips, corrected by Efron's BCa (1987).",
  "Where a reader sat twice, the sitting as live counts among all readers. With a dozen clips the limits are wide: they are no ground for ranking readers whose limits overlap. Agreement with a reference is not skill at the piste, and the rule book in force and licensed officials decide.",
];
