// What VS Code knows a bout file and its viewer by.

export const viewType = "boutline.viewer";

/** The documents that Boutline helps to read and write. */
export const boutFiles = { pattern: "**/*.bout.json" } as const;

export function isBoutFile({ uri }: { readonly uri: { readonly path: string } }): boolean {
  return uri.path.endsWith(".bout.json");
}
