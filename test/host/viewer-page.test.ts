import { expect, test } from "vitest";
import { viewerPage } from "../../src/host/viewer-page";

const parts = {
  nonce: "n0nce",
  own: "https://own.invalid",
  media: "http://127.0.0.1:4000",
  style: "https://own.invalid/viewer.css",
  script: "https://own.invalid/viewer.js",
  title: "Boutline viewer",
  settings: {},
};

function policy(page: string): Map<string, string> {
  const content = /Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1] ?? "";
  return new Map(
    content
      .replaceAll("&quot;", '"')
      .split("; ")
      .map((rule) => [rule.slice(0, rule.indexOf(" ")), rule.slice(rule.indexOf(" ") + 1)]),
  );
}

test("The page may run its own script, load its own style, and fetch from the media server, and nothing else", () => {
  const rules = policy(viewerPage(parts));
  expect(rules.get("default-src")).toBe("'none'");
  expect(rules.get("script-src")).toBe("'nonce-n0nce'");
  expect(rules.get("style-src")).toBe("https://own.invalid");
  expect(rules.get("media-src")).toBe("blob: http://127.0.0.1:4000");
  expect(rules.get("connect-src")).toBe("http://127.0.0.1:4000");
  expect([...rules.values()].join(" ")).not.toMatch(/unsafe|\*/);
});

test("Without a media server the page can fetch nothing", () => {
  const rules = policy(viewerPage({ ...parts, media: undefined }));
  expect(rules.get("connect-src")).toBe("'none'");
  expect(rules.get("media-src")).toBe("blob:");
});

test("Settings arrive as they were, and can't break out of their attribute", () => {
  const settings = { a: `"><script>alert('&amp;')</script>` };
  const page = viewerPage({ ...parts, settings });
  expect(page).not.toContain("<script>alert");
  const attribute = /data-settings="([^"]*)"/.exec(page)?.[1] ?? "";
  const read = attribute
    .replaceAll("&quot;", '"')
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&amp;", "&");
  expect(JSON.parse(read)).toEqual(settings);
});
