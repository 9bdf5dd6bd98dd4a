// The colours of the editor's theme for what is drawn on a canvas, read again whenever the theme changes.

export interface Colours {
  readonly text: string;
  readonly quiet: string;
  readonly line: string;
  readonly background: string;
  readonly accent: string;
  readonly block: string;
  readonly highContrast: boolean;
}

export function readColours(): Colours {
  const style = getComputedStyle(document.documentElement);
  const read = (...names: readonly string[]): string => {
    for (const name of names) {
      const value = style.getPropertyValue(`--vscode-${name}`).trim();
      if (value !== "") return value;
    }
    return getComputedStyle(document.body).color;
  };
  const highContrast = /vscode-high-contrast/.test(document.body.className);
  return {
    text: read("editor-foreground", "foreground"),
    quiet: read("descriptionForeground", "foreground"),
    line: highContrast
      ? read("contrastBorder", "foreground")
      : read("editorIndentGuide-activeBackground", "foreground"),
    background: read("editor-background"),
    accent: highContrast ? read("contrastActiveBorder", "focusBorder") : read("focusBorder"),
    block: read("descriptionForeground", "foreground"),
    highContrast,
  };
}

/** Calls back when the theme has changed. */
export function onThemeChange(changed: () => void): void {
  const observer = new MutationObserver(changed);
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ["style", "class"] });
  observer.observe(document.body, { attributes: true, attributeFilter: ["style", "class"] });
}
