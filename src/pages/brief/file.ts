// The brief as one HTML file: everything it needs is in it, and its content policy lets it fetch nothing.

import type { Brief } from "../../figures/brief";
import { Markup, markup } from "../markup";
import type { Style } from "../sheet-file";
import { briefPage } from "./page";

export function briefFile(brief: Brief, style: Style): string {
  return markup`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-${style.hash}'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="Boutline">
<title>Brief on ${brief.fencer.name}${brief.against !== null && ` against ${brief.against.name}`}</title>
<style>${new Markup(style.css)}</style>
</head>
<body class="file">
<main>${new Markup(briefPage(brief, "file"))}</main>
</body>
</html>
`.text;
}
