// Which findings become squiggles in the text, and where they stand. VS Code's own JSON support already marks what the
// schema can say; saying it twice would bury the rest.

import type { Reading } from "../bout/read";
import { placer } from "../bout/scan";
import type { Severity } from "../bout/result";
import type { Study } from "../rules";
import { ownFormat } from "../rules/findings/check";

export interface TextFinding {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly offset: number;
  readonly length: number;
  readonly related: readonly RelatedPlace[];
}

export interface RelatedPlace {
  readonly message: string;
  readonly offset: number;
  readonly length: number;
}

/** Problems of the text that neither JSON nor the schema knows of. */
function isOurs(rule: string, entry: number | undefined): boolean {
  // Missing in an entry that the schema takes: a review that changed the call without its award.
  return rule === "later-version" || (rule === "missing" && entry !== undefined);
}

export function findingsInText(reading: Reading, study: Study | undefined): readonly TextFinding[] {
  const ofText = reading.problems
    .filter(({ rule, entry }) => isOurs(rule, entry))
    .map(({ rule, severity, message, place: { offset, length } }) => ({
      rule,
      severity,
      message: sentence(message),
      offset,
      length,
      related: [],
    }));
  if (study === undefined) return ofText;
  const { text, stretches } = reading.scan;
  const problems = new Set(
    reading.problems.map(({ rule, place }) => `${rule} ${place.line} ${place.column}`),
  );
  const ofRules = study.findings.flatMap(
    ({ rule, severity, message, source, entry, line, column, related }): TextFinding[] => {
      const said = {
        rule,
        severity,
        message: `${sentence(message)}${source === ownFormat ? "" : ` (${source})`}`,
        related: (related ?? []).flatMap((other) => {
          const stretch = stretches[other.entry];
          return stretch === undefined ? [] : [{ message: capital(other.message), ...stretch }];
        }),
      };
      if (entry !== undefined) {
        const stretch = stretches[entry];
        return stretch === undefined ? [] : [{ ...said, offset: stretch.offset, length: stretch.length }];
      }
      if (line === undefined || column === undefined || problems.has(`${rule} ${line} ${column}`)) return [];
      const offset = offsetOf(text, line, column);
      return [{ ...said, offset, length: valueLength(text, offset) }];
    },
  );
  return [...ofText, ...ofRules];
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** As VS Code's own JSON support says it: a capital, and a full stop. */
function sentence(words: string): string {
  return `${capital(words)}${/[.?!]$/.test(words) ? "" : "."}`;
}

/** The offset of a place (both from 1). */
function offsetOf(text: string, line: number, column: number): number {
  const place = placer(text);
  let low = 0;
  let high = text.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const at = place(middle, 0);
    if (at.line < line || (at.line === line && at.column < column)) low = middle + 1;
    else high = middle;
  }
  return low;
}

function valueLength(text: string, offset: number): number {
  return /^"(?:[^"\\\n]|\\.)*"|^[\w.+-]+/.exec(text.slice(offset, offset + 200))?.[0].length ?? 1;
}
