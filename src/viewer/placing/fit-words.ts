// What placed points give: how far each lies off, and what this camera will be able to tell of the platforms.

import { doubtOfFit, expectedError, fitOf, type Fit, type FitPoint } from "../../piste";

/** Points that leave more than this doubt about a move along the piste, in metres, lie too close together. */
const mostDoubt = 0.25;

export type FitNow =
  { readonly fit: Fit; readonly words: string } | { readonly fit: undefined; readonly problem: string };

/** Points as placed so far; three are on the way to four. */
export function fitNow(points: readonly FitPoint[]): FitNow {
  const found = fitOf(points);
  if (!found.ok) return { fit: undefined, problem: `${capital(found.problem)}.` };
  const doubt = doubtOfFit(found.value);
  if (doubt !== null) return { fit: undefined, problem: `${capital(doubt)}.` };
  const error = expectedError(found.value);
  if (error !== null && error.along > mostDoubt)
    return {
      fit: undefined,
      problem: `The points lie too close together: a move along the piste would be told to within ± ${centimetres(error.along)} only. Take points that are farther apart.`,
    };
  return { fit: found.value, words: tellsWords(found.value) };
}

/** What a camera can and can't tell of one move of the platforms, in words. */
export function tellsWords(fit: Fit): string {
  const error = expectedError(fit);
  if (error === null)
    return "The middle of the piste is not in this picture, so what it can tell of the platforms isn't known.";
  const { along, across, turn, gap } = error;
  if (across === null || turn === null || gap === null)
    return `One move shows to within ± ${centimetres(along)} along the piste (95 %). This fit can't tell moves across, turns or the gap.`;
  const weak = [
    ...(along > usefulMetres ? ["slides"] : []),
    ...(across > usefulMetres ? ["moves across"] : []),
    ...(turn > usefulDegrees ? ["turns"] : []),
    ...(gap > usefulMetres ? ["changes of the gap"] : []),
  ];
  const verdict =
    weak.length === 0
      ? "Enough to tell what a few phrases do."
      : `Too coarse for ${weak.join(", ")} of a phrase or two; a camera higher up, nearer or zoomed in tells them better.`;
  return `One move shows to within ± ${centimetres(along)} along, ± ${centimetres(across)} across, ± ${turn.toFixed(1)}° of turn and ± ${centimetres(gap)} of gap (95 %). ${verdict}`;
}
/** A phrase or two move the platforms by about this much; common practice, no source. */
const usefulMetres = 0.03;
const usefulDegrees = 2;

/** How far off each point lies; undefined where the points fit exactly because they are few. */
export function residualWords(fit: Fit | undefined, index: number): string | undefined {
  if (fit?.kind !== "floor") return undefined;
  const residual = fit.residuals?.[index];
  return residual === undefined ? undefined : `${centimetres(residual)} off`;
}

export function centimetres(metres: number): string {
  return `${(metres * 100).toFixed(1)} cm`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
