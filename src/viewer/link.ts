// The viewer's end of the line to the host: what comes in is checked before anything uses it.

import * as z from "zod";
import { toViewer, type ToHost, type ToViewer } from "../messages/contract";

interface EditorApi {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}
declare function acquireVsCodeApi(): EditorApi;

// The page's content policy forbids code made at run time.
z.config({ jitless: true });

/** What outlives the page while its tab is hidden: places only, never content. */
const keptSchema = z.object({
  at: z.number(),
  speed: z.number(),
  source: z.number(),
  sound: z.boolean(),
});
export type Kept = z.output<typeof keptSchema>;

export interface Link {
  post(message: ToHost): void;
  listen(received: (message: ToViewer) => void): void;
  kept(): Kept | undefined;
  keep(places: Kept): void;
}

export function openLink(): Link {
  const editor = acquireVsCodeApi();
  return {
    post: (message) => {
      editor.postMessage(message);
    },
    listen: (received) => {
      window.addEventListener("message", ({ data }: MessageEvent<unknown>) => {
        const message = toViewer.safeParse(data);
        if (message.success) received(message.data);
        // A message this viewer can't read may have carried a change: start again from the whole scene.
        else if (typeof data === "object" && data !== null && "type" in data && data.type === "scene")
          editor.postMessage({ type: "whole scene" } satisfies ToHost);
      });
    },
    kept: () => {
      const state = keptSchema.safeParse(editor.getState());
      return state.success ? state.data : undefined;
    },
    keep: (places) => {
      editor.setState(places);
    },
  };
}
