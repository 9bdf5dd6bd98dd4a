/** The demo's log entries in time order, and the text of its bout file; see log.mjs. */
export const log: readonly (Readonly<Record<string, unknown>> & { readonly kind: string })[];
export function boutFileText(): string;
