// What is masked in a recording's pictures, in a plain file beside the bout file, NAME.masks.json: boxes drawn once a
// shot, those over the lamps for the drill without them, and where a shot needs it how long after the halt it ends.

import * as z from "zod";
import { failure, success, type Result } from "../bout/result";

const box = z
  .strictObject({
    x: z.number().min(0).max(1),
    y: z.number().min(0).max(1),
    width: z.number().positive().max(1),
    height: z.number().positive().max(1),
  })
  .describe("Fractions of the picture's width and height, from its top left corner.");

const shotSchema = z.strictObject({
  boxes: z.array(box).optional().describe("Masked always: the referee, the score, graphics, the public."),
  lamps: z.array(box).optional().describe("Masked where the lamps are hidden as a drill."),
  freeze: z
    .number()
    .min(0)
    .max(10_000)
    .optional()
    .describe("Milliseconds after the halt at which a clip of this shot ends."),
});

export const masksSchema = z.strictObject({
  masks: z.literal(1),
  shots: z
    .record(z.string(), shotSchema)
    .describe('By the shot\'s name; "main" until a shot entry says otherwise.'),
});
export type Masks = z.infer<typeof masksSchema>;
export const noMasks: Masks = { masks: 1, shots: {} };

export function masksFileOf(boutFile: string): string {
  return `${boutFile.replace(/\.bout\.json$/, "").replace(/\.json$/, "")}.masks.json`;
}

export function readMasks(text: string): Result<Masks, string> {
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch {
    return failure("its text is no JSON");
  }
  const read = masksSchema.safeParse(value);
  if (read.success) return success(read.data);
  const [issue] = read.error.issues;
  return failure(
    issue === undefined ? "it holds no masks" : `${issue.path.map(String).join(".")}: ${issue.message}`,
  );
}
