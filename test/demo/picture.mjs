// One frame of the demo recording.
import { createCanvas } from "@napi-rs/canvas";
import { drawApparatus } from "./apparatus.mjs";
import { height, width } from "./camera.mjs";
import { shadow } from "./brush.mjs";
import { fencersAt } from "./choreography.mjs";
import { drawSeated, drawWeaponArm } from "./fencer.mjs";
import { drawFrameNumber } from "./frame-number.mjs";
import { drawBar, drawPlatform, hallPicture, lampLight } from "./hall.mjs";
import { drawAssistants, drawReferee } from "./officials.mjs";
import { clockAt, clockText, lampsAt, phrases, scoreAt } from "./timeline.mjs";
import { platformsAt } from "./truth.mjs";

const hall = hallPicture();
const canvas = createCanvas(width, height);
const context = canvas.getContext("2d");

/** Draws a frame and returns the canvas, which is the same one every time. */
export function drawFrame(frame) {
  const poses = platformsAt(frame);
  const lamps = lampsAt(frame);
  context.drawImage(hall, 0, 0);
  lampLight(context, lamps);
  drawApparatus(context, {
    lamps,
    score: scoreAt(frame).shown,
    clock: clockText(frame),
    period: clockAt(frame).period,
    running: phrases.some((phrase) => phrase.play !== false && phrase.start <= frame && frame < phrase.halt),
  });
  for (const side of ["left", "right"])
    shadow(context, [poses[side].x, poses[side].y - 0.02], 0.66, 0.56, 0.42);
  drawPlatform(context, "left", poses.left);
  drawPlatform(context, "right", poses.right);
  drawBar(context, poses);
  drawAssistants(context, frame);
  const fencers = fencersAt(frame);
  drawSeated(context, "left", fencers.left);
  drawSeated(context, "right", fencers.right);
  drawWeaponArm(context, "right", fencers.right);
  drawWeaponArm(context, "left", fencers.left);
  drawReferee(context, frame);
  drawFrameNumber(context, frame, width, height);
  return canvas;
}
