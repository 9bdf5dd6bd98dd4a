// The study sheet: one bout's figures as a page to read, print, and play the phrases behind them.

import { caution, figuresOf, type Figures, type StudySheet } from "../figures";
import { namesOf } from "../figures/bout-tests";
import type { Finding, Ledger } from "../rules";
import { answersTable } from "./answers-table";
import { comparisonsSection } from "./comparisons-table";
import { driftSection } from "./drift-section";
import { entryKeys } from "./entry-keys";
import { player } from "./evidence";
import { familiesTables } from "./families-table";
import { findingsList, lineButton } from "./findings-list";
import { flowSection } from "./flow-section";
import { bothLampsTable } from "./lamps-table";
import { markup, type Markup } from "./markup";
import { openedTable } from "./opened-table";
import { phrasesTable } from "./phrases-table";
import type { Medium, Reader } from "./reader";
import { reviewsSection } from "./reviews-tables";
import { chartSizes, scoreChart } from "./score-chart";
import { courseOf, courseWords, hasBegun, type Course } from "./score-course";
import { openAtFirst, section, sectionNames, type SectionName } from "./section";
import { sheetHead, taggedLine } from "./sheet-head";
import { sidesTable } from "./sides-table";
import { summaryLines } from "./summary-lines";
import { tagsTable } from "./tags-table";

export interface PageOptions {
  /** Left out: those of the ledger, with no meanings of the coach's own words. */
  readonly figures?: Figures;
  /** Left out: a panel. */
  readonly medium?: Medium;
  /** Sections a panel shows unfolded; a file shows all. */
  readonly open?: ReadonlySet<SectionName>;
}

/** The page's content as HTML, without a document around it. Every button of class `evidence` carries `data-entries`,
 * the entries of the log to play, `data-title`, what they show, and `data-key`, a name that survives edits. */
export function sheetPage(study: StudySheet, ledger: Ledger, options: PageOptions = {}): string {
  const { figures = figuresOf(ledger), medium = "panel", open = openAtFirst } = options;
  const reader: Reader = {
    ledger,
    names: namesOf(ledger),
    keys: entryKeys(ledger),
    play: player(ledger.bout, medium),
    medium,
  };
  const course = courseOf(ledger, reader.keys, medium);
  const contents = sectionContents(study, figures, course, reader);
  const begun = hasBegun(course);
  const shown = begun ? sectionNames : (["findings"] as const);
  const part = (name: SectionName) =>
    section(name, medium, medium === "file" || open.has(name), contents[name]);
  return markup`<article class="sheet">
${sheetHead(study.sheet, ledger)}
${begun && summaryLines(figures, reader)}
${taggedLine(study, reader)}
${shown.slice(0, onFirstPage).map(part)}
<div class="rest">${shown.slice(onFirstPage).map(part)}
<footer class="cautions"><h2>Before you use this</h2><ul>${caution.map((one) => markup`<li>${one}</li>`)}</ul></footer></div>
</article>`.text;
}

/** Score and phrases take the width of the page; the rest is set in two columns on paper. */
const onFirstPage = 2;

function sectionContents(
  study: StudySheet,
  figures: Figures,
  course: Course,
  reader: Reader,
): Readonly<Record<SectionName, () => Markup>> {
  const { sheet } = study;
  const { ledger, names, keys, play } = reader;
  return {
    score: () => scoreFigure(course, reader),
    phrases: () => phrasesTable(reader),
    opened: () => openedTable(figures, reader),
    touches: () => sidesTable(study, figures, reader),
    families: () => familiesTables(figures, reader),
    answers: () => answersTable(figures, reader),
    lamps: () => bothLampsTable(figures.bothLamps, reader),
    reviews: () => reviewsSection(study, figures, reader),
    flow: () => flowSection(figures, reader),
    comparisons: () => comparisonsSection(figures, reader),
    tags: () => tagsTable(figures, reader),
    drift: () => driftSection(sheet.drift, ledger, names, keys, play, course.playable),
    findings: () => findingsList(sheet.findings, reader),
  };
}

function scoreFigure(course: Course, { names }: Reader): Markup {
  const label = courseWords(course, names);
  return markup`<figure>${chartSizes.map((size) => scoreChart(course, names, size, label))}<figcaption>The whole line is ${names.left} (left), the broken one ${names.right} (right). Under it, left's cards, reviews and stops stand above their line, right's below it, the officials' on it. <span class="screen">"The phrases in order" tells the same in words.</span></figcaption></figure>`;
}

/** The page of a file that can't be read: why, and nothing else. */
export function unreadablePage(
  file: string,
  reasons: readonly Pick<Finding, "message" | "line" | "column">[],
): string {
  return markup`<article class="sheet"><h1>No study sheet of ${file}</h1>
<p>The file can't be read as a bout. Put this right in its text and the sheet comes back:</p>
<ul class="findings">${reasons.map(
    ({ message, line, column }, index) =>
      markup`<li>${line !== undefined && markup`${lineButton(line, column, `reason.${index}`)}: `}${message}</li>`,
  )}</ul></article>`.text;
}
