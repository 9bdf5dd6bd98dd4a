// What the page of a seminar pack is told: its clips and how they are shown, and no answer to any of them. And in which
// order a reader sees them.

import { seededRandom } from "../statistics";
import { sha256Hex, type Answer, type Paper, type Way } from "./seminar-format";

/** How many stretches a pack is shown in. A clip and its repeat stand in the first and the last. */
export const stretches = 3;

export interface PackClip {
  readonly id: string;
  /** From the pack's folder. */
  readonly file: string;
  readonly paper: Paper;
  /** The stretch of the pack it is shown in, from 0. */
  readonly stretch: number;
}

export interface SeminarPack {
  readonly pack: string;
  readonly title: string;
  readonly ways: readonly Way[];
  readonly hideLamps: boolean;
  readonly answerSeconds: number;
  /** Where each reader's order starts from; it says nothing about the key's seed. */
  readonly order: string;
  readonly clips: readonly PackClip[];
  /** By clip, and only in a pack that reveals each answer after it was given. */
  readonly revealed?: Readonly<Record<string, Answer>>;
}

/** The clips in this reader's order: the same whenever asked, another for another reader. */
export function orderFor(reader: string, { order, clips }: Pick<SeminarPack, "order" | "clips">) {
  const name = reader.normalize("NFKC").trim().replaceAll(/\s+/g, " ").toLowerCase();
  const random = seededRandom(Number.parseInt(sha256Hex(`${order}\n${name}`).slice(0, 8), 16));
  return Array.from({ length: stretches }, (_, stretch) =>
    shuffled(
      clips.filter((clip) => clip.stretch === stretch),
      random,
    ),
  ).flat();
}

/** Fisher and Yates's shuffle, by Durstenfeld; the draw's bias is below 2^-24 for any pack there is. */
export function shuffled<T>(things: readonly T[], random: (numbers: Uint32Array) => void): T[] {
  const order = [...things];
  const draw = new Uint32Array(1);
  for (let last = order.length - 1; last > 0; last--) {
    random(draw);
    const other = Math.floor(((draw[0] ?? 0) / 2 ** 32) * (last + 1));
    const moved = order[last] as T;
    order[last] = order[other] as T;
    order[other] = moved;
  }
  return order;
}
