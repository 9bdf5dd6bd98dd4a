// The study sheet as one HTML file: everything it needs is in it, and its content policy lets it fetch nothing.

import type { StudySheet } from "../figures";
import type { Ledger } from "../rules";
import { formatDate } from "./dates";
import { Markup, markup } from "./markup";
import { meaningsSection } from "./meanings-section";
import { sheetPage, type PageOptions } from "./sheet";

export interface Style {
  readonly css: string;
  /** SHA-256 of `css` in base 64, which alone the content policy lets in. */
  readonly hash: string;
}

export function sheetFile(
  study: StudySheet,
  ledger: Ledger,
  style: Style,
  figures?: PageOptions["figures"],
): string {
  const { about, fencers } = ledger.bout;
  const title = about.title?.trim() || `${fencers.left.name} and ${fencers.right.name}`;
  const day = formatDate(about.date);
  const page = sheetPage(study, ledger, { medium: "file", ...(figures === undefined ? {} : { figures }) });
  return markup`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-${style.hash}'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="Boutline">
<title>${title}${day !== undefined && `, ${day}`}: study sheet</title>
<style>${new Markup(style.css)}</style>
</head>
<body class="file">
<main>${new Markup(page)}
${meaningsSection()}</main>
</body>
</html>
`.text;
}
