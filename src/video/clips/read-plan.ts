// Which frames a plan means, or why it can't be cut.

import { nearestFrame } from "../../bout/frames";
import { failure, type Result, success } from "../../bout/result";
import { type VideoProblem, videoProblem } from "../problem";
import { type Frames, type Sources, stayOf } from "./cut-options";
import type { ClipPlan } from "./plan";

export function framesOf(plan: ClipPlan, { index }: Sources): Result<Frames, VideoProblem> {
  const { times } = index;
  const end = (times.at(-1) ?? 0) + stayOf(index, times.length - 1);
  const refused = (message: string) => failure(videoProblem("clip-unusable", `${plan.name}: ${message}`));
  const all = [plan.from, plan.to, plan.freezeAt, plan.muteFrom, plan.slowRepeat?.from, plan.slowRepeat?.to];
  if (all.some((time) => time !== undefined && !Number.isFinite(time)))
    return refused("a time is no number.");
  if (plan.to <= plan.from) return refused("it would end before it begins.");
  if (plan.from < 0) return refused("it would begin before the recording.");
  if (plan.to > end)
    return refused(
      `it would end at ${plan.to.toFixed(3)} s, but ${plan.source} ends at ${end.toFixed(3)} s. Is it the recording that was tagged?`,
    );
  const [first, last] = [nearestFrame(times, plan.from), nearestFrame(times, plan.to)];
  const { freezeAt, slowRepeat, boxes = [] } = plan;
  const freeze = freezeAt === undefined ? undefined : nearestFrame(times, freezeAt);
  if (freeze !== undefined && (freeze < first || freeze > last))
    return refused("the picture would stand still outside the clip.");
  if (slowRepeat !== undefined) {
    const { from, to, speed } = slowRepeat;
    if (!(speed >= 0.05 && speed <= 1) || from < 0 || to <= from || to > end)
      return refused("its slow repeat lies outside the recording, or is not slow.");
  }
  if (boxes.some(({ x, y, width, height }) => ![x, y, width, height].every((part) => part >= 0 && part <= 1)))
    return refused("a box does not lie in the picture.");
  return success({
    first,
    last,
    freeze,
    repeat:
      slowRepeat === undefined
        ? undefined
        : { first: nearestFrame(times, slowRepeat.from), last: nearestFrame(times, slowRepeat.to) },
  });
}

/** Names that stay in their folder on every system. */
export function nameProblem(names: readonly string[]): VideoProblem | undefined {
  const seen = new Set<string>();
  for (const name of names) {
    if (!/^[A-Za-z0-9_-][A-Za-z0-9._-]{0,99}$/.test(name) || name.endsWith("."))
      return videoProblem(
        "clip-name",
        `"${name}" can't be the name of a clip: letters, digits, - and _ only.`,
      );
    const small = name.toLowerCase();
    if (seen.has(small)) return videoProblem("clip-name", `Two clips would be called ${name}.`);
    seen.add(small);
  }
  return undefined;
}
