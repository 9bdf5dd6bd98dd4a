// The study sheet: one bout's figures as a page to read, print, and play the phrases behind them.

import type { StudySheet } from "../figures";
import type { Ledger, Sided } from "../rules";
import { bothLampsTable, reviewsTable } from "./calls-tables";
import { courseTable } from "./course-table";
import { driftSection } from "./drift-section";
import { entryKeys, type EntryKeys } from "./entry-keys";
import { player, type Play } from "./evidence";
import { findingsList } from "./findings-list";
import { markup, type Markup } from "./markup";
import { counted } from "./numbers";
import { chartSizes, scoreChart } from "./score-chart";
import { courseOf, hasBegun, type Course } from "./score-course";
import { sheetHead, taggedLine } from "./sheet-head";
import { sidesTable } from "./sides-table";

/** The page's content as HTML, without a document around it. Every button of class `evidence` carries `data-entries`,
 * the entries of the log to play, `data-title`, what they show, and `data-key`, a name that survives edits. */
export function sheetPage(study: StudySheet, ledger: Ledger): string {
  const play = player(ledger.bout);
  const keys = entryKeys(ledger);
  const course = courseOf(ledger, keys);
  return markup`<article class="sheet">
${sheetHead(study.sheet, ledger)}
${taggedLine(study, play, course.playable)}
${hasBegun(course) && figures(study, ledger, course, keys, play)}
<section><h2>Findings</h2>
${findingsList(study.sheet.findings, ledger, keys, play)}</section>
${cautions}
</article>`.text;
}

function figures(study: StudySheet, ledger: Ledger, course: Course, keys: EntryKeys, play: Play): Markup {
  const { sheet, evidence } = study;
  const { fencers } = ledger.bout;
  const names: Sided<string> = { left: fencers.left.name, right: fencers.right.name };
  const label = courseWords(course, names);
  return markup`<section><h2>How the score grew</h2>
<figure>${chartSizes.map((size) => scoreChart(course, names, size, label))}<figcaption>The whole line is ${names.left} (left), the broken one ${names.right} (right). Under it, left's cards, reviews and stops stand above their line, right's below it, the officials' on it.</figcaption></figure>
${courseTable(ledger, keys, play)}</section>
<section><h2>What each fencer did</h2>
<p class="key">Bars show the 95 % limits of a share, from none on the left to all on the right: how far off the tagged number may well be. From fewer than five, only the counts and the bar are given.</p>
${sidesTable(study, names, play)}</section>
<section><h2>Lamps and calls</h2>
<div class="pair">${bothLampsTable(sheet.bothLamps, evidence.bothLamps, names, play)}${reviewsTable(sheet.reviews.byOfficials, evidence.officials, play)}</div></section>
<section><h2>Drift of the platforms</h2>
${driftSection(sheet.drift, ledger, names, keys, play)}</section>`;
}

/** The page of a file that can't be read: why, and nothing else. */
export function unreadablePage(file: string, reasons: readonly string[]): string {
  return markup`<article class="sheet"><h1>No study sheet of ${file}</h1>
<p>The file can't be read as a bout. Put this right in its text and the sheet comes back:</p>
<ul class="findings">${reasons.map((reason) => markup`<li>${reason}</li>`)}</ul></article>`.text;
}

function courseWords({ steps, marks, phrases }: Course, names: Sided<string>): string {
  const [left, right] = steps.at(-1)?.score ?? [0, 0];
  const number = (kind: string) => marks.filter((mark) => mark.kind === kind).length;
  return `Line chart of both scores over ${counted(phrases, "phrase")}, ending ${names.left} ${left}, ${names.right} ${right}, with ${counted(number("card"), "card")}, ${counted(number("review"), "review")} and ${counted(number("stop"), "stop")}. The table "Course of the bout" below says the same in words.`;
}

const cautions = markup`<footer class="cautions"><h2>Before you use this</h2><ul>
<li>Figures describe what was tagged; they are no official result. The referee's decision and the rule book in force stand.</li>
<li>Have consent to record people, and mind the rules for minors and for health data; a para athlete's category is health data.</li>
<li>Injuries and equipment are for medical staff and licensed officials.</li>
</ul></footer>`;
