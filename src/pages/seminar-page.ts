// The page of a seminar pack as one HTML file beside its clips. It opens from a disk: script and style stand in it, and
// its content policy lets in only these two and clips, and nothing that could send anything.

import { caution } from "../figures/caution";
import type { SeminarPack } from "../figures/seminar-pack";
import { Markup, markup } from "./markup";

/** A script or a style, and SHA-256 of it in base 64, by which the content policy knows it. */
export interface Inlined {
  readonly text: string;
  readonly hash: string;
}

export function seminarPage(pack: SeminarPack, script: Inlined, style: Inlined): string {
  const policy = [
    "default-src 'none'",
    `script-src 'sha256-${script.hash}'`,
    `style-src 'sha256-${style.hash}'`,
    // A page from a disk has no origin that 'self' could mean in every browser.
    "media-src 'self' file:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return markup`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="Boutline">
<title>${pack.title}</title>
<style>${new Markup(style.text)}</style>
</head>
<body>
<main id="page"><noscript>This page needs scripts to be allowed. It sends nothing anywhere.</noscript></main>
<footer>${caution.map((line) => markup`<p>${line}</p>`)}</footer>
<script type="application/json" id="pack">${new Markup(inScript(pack))}</script>
<script>${new Markup(script.text)}</script>
</body>
</html>
`.text;
}

/** JSON that can't end the element it stands in. */
function inScript(value: unknown): string {
  return JSON.stringify(value).replaceAll("<", "\\u003c");
}
