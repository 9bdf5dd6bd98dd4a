// A page as one HTML file: everything it needs is in it, and its content policy lets it fetch nothing else.

import { Markup, markup, type Content } from "./markup";

export interface Style {
  readonly css: string;
  /** SHA-256 of `css` in base 64, which alone the content policy lets in. */
  readonly hash: string;
}

/** `media`: where films may come from, as a content policy has it; without it from nowhere. */
export function htmlFile(title: Content, style: Style, main: Content, media?: string): string {
  const policy = [
    "default-src 'none'",
    ...(media === undefined ? [] : [`media-src ${media}`]),
    `style-src 'sha256-${style.hash}'`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return markup`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${new Markup(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="Boutline">
<title>${title}</title>
<style>${new Markup(style.css)}</style>
</head>
<body class="file">
<main>${main}</main>
</body>
</html>
`.text;
}
