// What VS Code knows a bout file and its viewer by.

export const viewType = "boutline.viewer";

export function isBoutFile({ uri }: { readonly uri: { readonly path: string } }): boolean {
  return uri.path.endsWith(".bout.json");
}
