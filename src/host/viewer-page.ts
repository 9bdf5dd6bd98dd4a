// The HTML the viewer's page starts from: one element, one style sheet, one script, and a content policy that allows
// nothing else.

export interface PageParts {
  readonly nonce: string;
  /** What the policy calls the extension's own files (`webview.cspSource`). */
  readonly own: string;
  /** Origin of the media server; undefined where it could not be started. */
  readonly media: string | undefined;
  readonly style: string;
  readonly script: string;
  readonly title: string;
  /** Handed to the page as JSON in `data-settings`. */
  readonly settings: object;
}

export function viewerPage({ nonce, own, media, style, script, title, settings }: PageParts): string {
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${own}`,
    `img-src ${own} data:`,
    `font-src ${own}`,
    // A short viewing copy is fetched once and played from memory, which is a blob address.
    `media-src blob:${media === undefined ? "" : ` ${media}`}`,
    `connect-src ${media ?? "'none'"}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<link rel="stylesheet" href="${escaped(style)}">
</head>
<body>
<div id="viewer" data-settings="${escaped(JSON.stringify(settings))}"></div>
<script nonce="${nonce}" src="${escaped(script)}"></script>
</body>
</html>
`;
}

function escaped(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll('"', "&quot;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;");
}
