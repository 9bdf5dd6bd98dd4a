// The study sheet as files to keep: one HTML page, and its charts as pictures.

import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import path from "node:path";
import type { Figures, StudySheet } from "../figures";
import type { Ledger } from "../rules";
import type { NewFile } from "./sheet-files";

/** The whole sheet, with the style that ships beside the folder the command is built into. */
export async function pageText(study: StudySheet, ledger: Ledger, figures: Figures): Promise<string> {
  const css = await readFile(path.join(__dirname, "..", "media", "sheet.css"), "utf8");
  const hash = createHash("sha256").update(css).digest("base64");
  const { sheetFile } = await import("../pages");
  return sheetFile(study, ledger, { css, hash }, figures);
}

/** `NAME.svg` for each chart that has something to show. */
export async function chartTexts(
  folder: string,
  study: StudySheet,
  ledger: Ledger,
  figures: Figures,
): Promise<readonly NewFile[]> {
  const { chartFiles } = await import("../pages");
  return chartFiles(study, ledger, figures).map(({ name, svg }) => ({
    file: path.join(folder, `${name}.svg`),
    text: svg,
  }));
}
