// The sheet panel's end of the line to the host: what comes in is checked before anything uses it.

import * as z from "zod";
import { toSheet, type FromSheet, type ToSheet } from "../messages/sheet";

declare function acquireVsCodeApi(): {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
};

// The page's content policy forbids code made at run time.
z.config({ jitless: true });

/** What outlives the page while it is hidden, and the editor's next start. */
const keptSchema = z.object({ file: z.string(), open: z.array(z.string()).optional() });
export type Kept = z.output<typeof keptSchema>;

export interface SheetLink {
  post(message: FromSheet): void;
  kept(): Kept | undefined;
  keep(state: Kept): void;
  listen(received: (message: ToSheet) => void): void;
}

export function openSheetLink(): SheetLink {
  const editor = acquireVsCodeApi();
  return {
    post: (message) => editor.postMessage(message),
    kept: () => keptSchema.safeParse(editor.getState()).data,
    keep: (state) => editor.setState(state),
    listen: (received) => {
      window.addEventListener("message", ({ data }: MessageEvent<unknown>) => {
        const message = toSheet.safeParse(data);
        if (message.success) received(message.data);
      });
    },
  };
}
