// The sheet panel's end of the line to the host: what comes in is checked before anything uses it.

import * as z from "zod";
import { keptSheet, toSheet, type FromSheet, type KeptSheet, type ToSheet } from "../messages/sheet";

declare function acquireVsCodeApi(): {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
};

// The page's content policy forbids code made at run time.
z.config({ jitless: true });

export interface SheetLink {
  post(message: FromSheet): void;
  kept(): KeptSheet | undefined;
  keep(state: KeptSheet): void;
  listen(received: (message: ToSheet) => void): void;
}

export function openSheetLink(): SheetLink {
  const editor = acquireVsCodeApi();
  return {
    post: (message) => editor.postMessage(message),
    kept: () => keptSheet.safeParse(editor.getState()).data,
    keep: (state) => editor.setState(state),
    listen: (received) => {
      window.addEventListener("message", ({ data }: MessageEvent<unknown>) => {
        const message = toSheet.safeParse(data);
        if (message.success) received(message.data);
      });
    },
  };
}
