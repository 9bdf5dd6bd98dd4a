// A browser that shows the study sheet as the panel does, in the colours of the editor's themes.
import path from "node:path";
import { build } from "esbuild";
import type { Browser, Page } from "playwright-core";
import { launchChromium } from "../run/chromium.mjs";
import { styles } from "./sheets";

/** Colours of the themes, read from the editor's own theme files; those of high contrast are from memory. */
export const themes = {
  "on its own, light": { dark: false, colours: {} },
  "on its own, dark": { dark: true, colours: {} },
  "light theme": {
    dark: false,
    colours: {
      "editor-foreground": "#3b3b3b",
      "editor-background": "#ffffff",
      descriptionForeground: "#3b3b3b",
      "textLink-foreground": "#005fb8",
      focusBorder: "#005fb8",
    },
  },
  "dark theme": {
    dark: true,
    colours: {
      "editor-foreground": "#cccccc",
      "editor-background": "#1f1f1f",
      descriptionForeground: "#9d9d9d",
      "textLink-foreground": "#4daafc",
      focusBorder: "#0078d4",
    },
  },
  "dark high contrast": {
    dark: true,
    colours: {
      "editor-foreground": "#ffffff",
      "editor-background": "#000000",
      descriptionForeground: "rgba(255, 255, 255, 0.7)",
      "textLink-foreground": "#21a6ff",
      focusBorder: "#f38518",
      contrastBorder: "#6fc3df",
    },
  },
  "light high contrast": {
    dark: false,
    colours: {
      "editor-foreground": "#292929",
      "editor-background": "#ffffff",
      descriptionForeground: "rgba(41, 41, 41, 0.7)",
      "textLink-foreground": "#0f4a85",
      focusBorder: "#006bbd",
      contrastBorder: "#0f4a85",
    },
  },
} as const;
export type ThemeName = keyof typeof themes;
export const themeNames = Object.keys(themes) as ThemeName[];

let browser: Promise<Browser> | undefined;

export async function closeBrowser(): Promise<void> {
  await (await browser)?.close();
  browser = undefined;
}

/** A page of this width with the sheet in it. */
export async function shown(sheet: string, theme: ThemeName, width = 900): Promise<Page> {
  const { dark, colours } = themes[theme];
  const style = Object.entries(colours).map(([name, value]) => `--vscode-${name}:${value}`);
  const page = await newPage(width, dark);
  await page.setContent(
    `<!doctype html><html lang="en" style="${style.join(";")}"><head><meta charset="utf-8"><title>Study sheet</title><style>${styles}</style></head><body><main id="sheet">${sheet}</main><p id="said" class="said" role="status"></p></body></html>`,
  );
  return page;
}

/** The panel with its script, and what the script has said to the host: `window.said`. */
export async function panel(): Promise<Page> {
  const script = await build({
    entryPoints: [path.join(import.meta.dirname, "..", "..", "src", "viewer", "sheet.ts")],
    bundle: true,
    format: "iife",
    write: false,
    logLevel: "warning",
  });
  const page = await shown("", "light theme", 600);
  await page.evaluate(() => {
    const said: unknown[] = [];
    Object.assign(window, {
      said,
      acquireVsCodeApi: () => ({
        postMessage: (message: unknown) => said.push(message),
        getState: () => (window as unknown as { kept?: unknown }).kept,
        setState: (kept: unknown) => Object.assign(window, { kept }),
      }),
    });
  });
  await page.addScriptTag({ content: script.outputFiles[0]?.text ?? "" });
  return page;
}

/** A page with this document, as a browser opens a file. */
export async function opened(html: string, dark = false, width = 900): Promise<Page> {
  const page = await newPage(width, dark);
  await page.setContent(html);
  return page;
}

async function newPage(width: number, dark: boolean): Promise<Page> {
  browser ??= launchChromium();
  const page = await (
    await browser
  ).newPage({
    viewport: { width, height: 800 },
    colorScheme: dark ? "dark" : "light",
  });
  page.setDefaultTimeout(20_000);
  return page;
}
