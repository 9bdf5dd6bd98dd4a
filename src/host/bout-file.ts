// What VS Code knows a bout file, its viewer and the pages of rules by.

export const viewType = "boutline.viewer";

/** Addresses of the pages of rules. The manifest says that they are shown as pages, not as their source. */
export const ruleScheme = "boutline-rule";

/** The documents that Boutline helps to read and write. */
export const boutFiles = { pattern: "**/*.bout.json" } as const;

export function isBoutFile({ uri }: { readonly uri: { readonly path: string } }): boolean {
  return uri.path.endsWith(".bout.json");
}
