// What figures are not, said wherever they are shown.

export const caution: readonly string[] = [
  "These figures describe what was tagged; they are no official result. The referee's decision and the rule book in force stand.",
  "Have consent to record people, and mind the rules for minors and for health data: a para athlete's category is health data.",
  "Injuries and equipment are for medical staff and licensed officials.",
];
