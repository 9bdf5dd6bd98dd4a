// The brief panel's end of the line to the host: what comes in is checked before anything uses it.

import * as z from "zod";
import { briefSubject, toBrief, type FromBrief, type ToBrief } from "../../messages/brief";

declare function acquireVsCodeApi(): {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
};

// The page's content policy forbids code made at run time.
z.config({ jitless: true });

/** What outlives the page while it is hidden, and the editor's next start. */
const keptSchema = z.object({
  subject: briefSubject.optional(),
  unfolded: z.array(z.string()).default([]),
  scroll: z.number().default(0),
  /** By thing to do: what was written and not kept yet, and the words that were there before. */
  drafts: z.array(z.object({ words: z.string(), base: z.string() }).nullable()).default([]),
});
export type Kept = z.output<typeof keptSchema>;

export interface BriefLink {
  post(message: FromBrief): void;
  readonly kept: Kept;
  keep(change: Partial<Kept>): void;
  listen(received: (message: ToBrief) => void): void;
}

export function openBriefLink(): BriefLink {
  const editor = acquireVsCodeApi();
  let kept = keptSchema.safeParse(editor.getState()).data ?? keptSchema.parse({});
  return {
    post: (message) => editor.postMessage(message),
    get kept() {
      return kept;
    },
    keep: (change) => editor.setState((kept = { ...kept, ...change })),
    listen: (received) => {
      window.addEventListener("message", ({ data }: MessageEvent<unknown>) => {
        const message = toBrief.safeParse(data);
        if (message.success) received(message.data);
      });
    },
  };
}
