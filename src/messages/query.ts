// What the panel with the answer to a query says to the host.

import * as z from "zod";

/** To the host: play the phrase of a row (from 0), or ask another question. */
export const fromAnswer = z.discriminatedUnion("type", [
  z.object({ type: z.literal("play"), row: z.int().min(0) }),
  z.object({ type: z.literal("again") }),
]);
