// A pick from a JSON file, checked.

import * as z from "zod";
import { pickSchema, type Pick } from "../figures";
import { readText } from "./files";
import { Unusable } from "./verb";

export async function readPick(file: string): Promise<Pick> {
  const text = await readText(file);
  if (!text.ok) throw new Unusable(`${file}: ${text.problem}`);
  let value: unknown;
  try {
    value = JSON.parse(text.value);
  } catch {
    throw new Unusable(`${file} is not JSON`);
  }
  const pick = pickSchema.safeParse(value);
  if (!pick.success) throw new Unusable(`${file} is no pick: ${z.prettifyError(pick.error)}`);
  return pick.data;
}
