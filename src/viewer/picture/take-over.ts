// A recording gets ready behind the one on screen, at the same place, until it can take over without anybody noticing.

import type { RecordingClock } from "./recording-clock";

/** How far ahead of a running picture the next one waits for it, in milliseconds of the user's time. */
const ahead = 250;
/** The running picture came by if it is this close, in milliseconds of the recording. */
const near = 400;

/** How often bringing the next one to the same frame is tried; then it is close enough. */
const tries = 30;

/** Waits until `next` shows the frame that `now` shows, or the one it is just coming to; false where it never will. */
export async function ready(now: RecordingClock, next: RecordingClock, stop: AbortSignal): Promise<boolean> {
  if (!(await next.opened)) return false;
  for (let tried = 1; ; tried += 1) {
    const to = now.playing ? now.at + ahead * now.speed : now.heading;
    if (stop.aborted) return false;
    next.show(to);
    await next.still();
    if (now.playing) {
      if (await comesBy(now, next, stop)) return true;
    } else if (now.heading === to && (Math.abs(next.at - to) < next.frame / 2 || tried > tries)) return true;
    // A picture that can't be brought there must not be tried without a breath in between.
    await nextPicture();
  }
}

async function comesBy(now: RecordingClock, next: RecordingClock, stop: AbortSignal): Promise<boolean> {
  while (now.playing && !stop.aborted) {
    const before = next.at - now.at;
    if (before <= 0 && before > -near) return true;
    // It jumped, or runs out of sight of the next one.
    if (Math.abs(before) > near + ahead * now.speed) return false;
    await nextPicture();
  }
  return false;
}

function nextPicture(): Promise<unknown> {
  return new Promise((resolve) => {
    requestAnimationFrame(resolve);
  });
}
