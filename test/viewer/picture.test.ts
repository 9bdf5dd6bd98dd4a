import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { nextSpeed } from "../../src/viewer/picture/clock";
import {
  aimAt,
  aimBeside,
  FrameEstimate,
  lasts,
  readFrameTimes,
  sameFrame,
  type FrameGrid,
} from "../../src/viewer/picture/frame-grid";
import { HandClock } from "../../src/viewer/picture/hand-clock";
import { caption, nextStretch, onFrame, stretchOf, type Playing } from "../../src/viewer/picture/playback";
import { Seeker } from "../../src/viewer/picture/seeker";
import { fitted, moved, whole, zoomAbout } from "../../src/viewer/picture/zoom";

const known: FrameGrid = { known: true, times: Float64Array.from([0, 0.04, 0.08, 0.12, 0.2]) };
const estimated: FrameGrid = { known: false, frame: 0.04, duration: 10 };

describe("frames", () => {
  test("are aimed at half-way to the next one", () => {
    expect(aimAt(known, 0.079)).toEqual({ time: 0.08, aim: 0.1 });
    expect(aimAt(known, 0.19).aim).toBeCloseTo(0.24, 9);
  });

  test("a step goes to the neighbour and stays at either end", () => {
    expect(aimBeside(known, 0.08, 1).time).toBe(0.12);
    expect(aimBeside(known, 0.08, -5).time).toBe(0);
    expect(aimBeside(known, 0.12, 9).time).toBe(0.2);
  });

  test("last until the next one; the last as long as the one before", () => {
    expect(lasts(known, 0.12)).toBeCloseTo(0.08, 9);
    expect(lasts(known, 0.2)).toBeCloseTo(0.08, 9);
  });

  test("without a table a written time is aimed at half an estimated frame later", () => {
    expect(aimAt(estimated, 4).aim).toBeCloseTo(4.02, 9);
    expect(aimBeside(estimated, 4, -1).time).toBeCloseTo(3.96, 9);
    expect(aimBeside(estimated, 0, -1).time).toBe(0);
    expect(aimAt(estimated, 99).time).toBeCloseTo(9.96, 9);
  });

  test("are read from 64-bit floats, little endian", () => {
    const bytes = new DataView(new ArrayBuffer(16));
    bytes.setFloat64(8, 0.04, true);
    expect(readFrameTimes(bytes.buffer)).toEqual(Float64Array.from([0, 0.04]));
    expect(readFrameTimes(new ArrayBuffer(0))).toBeUndefined();
  });

  test("the estimate is the median distance of frames shown one after another", () => {
    const estimate = new FrameEstimate();
    expect(estimate.frame).toBe(0.04);
    [0, 0.02, 0.04, 0.06, 0.5, 0.52].forEach((time, index) => {
      estimate.shown(time, index === 4 ? 40 : index === 5 ? 41 : index);
    });
    expect(estimate.frame).toBeCloseTo(0.02, 9);
  });
});

describe("seeking", () => {
  function follow() {
    const aims: number[] = [];
    return { aims, seeker: new Seeker((aim) => aims.push(aim)) };
  }

  test("while one seek runs only the newest wish is kept", () => {
    const { aims, seeker } = follow();
    for (const step of [1, 2, 3]) seeker.request(aimBeside(known, 0, step));
    expect(aims).toEqual([aimBeside(known, 0, 1).aim]);
    expect(seeker.goal?.time).toBe(0.12);
    seeker.arrived(known, 0.04);
    expect(aims[1]).toBe(aimBeside(known, 0, 3).aim);
    seeker.arrived(known, 0.12);
    expect(seeker.goal).toBeUndefined();
    expect(aims).toHaveLength(2);
  });

  test("the wrong frame is aimed at once more, not for ever", () => {
    const { aims, seeker } = follow();
    seeker.request(aimAt(known, 0.08));
    seeker.arrived(known, 0.04);
    expect(aims).toHaveLength(2);
    expect(aims[1]).toBeGreaterThan(aims[0] ?? 0);
    seeker.arrived(known, 0.04);
    expect(aims).toHaveLength(2);
  });

  test("a wish for the frame that has just come costs no seek", () => {
    const { aims, seeker } = follow();
    seeker.request(aimAt(known, 0.08));
    seeker.request(aimAt(known, 0.08));
    seeker.arrived(known, 0.08);
    expect(aims).toHaveLength(1);
  });

  test("whatever is wished for, the last wish is where the picture ends", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(4), fc.boolean()), { minLength: 1 }), (wishes) => {
        const times = [0, 0.04, 0.08, 0.12, 0.2];
        let shown = 0;
        let aimed: number | undefined;
        const seeker = new Seeker((aim) => (aimed = aim));
        const arrive = () => {
          if (aimed === undefined) return;
          shown = times.findLast((time) => time <= (aimed ?? 0)) ?? 0;
          aimed = undefined;
          seeker.arrived(known, shown);
        };
        let last = 0;
        for (const [index, arrives] of wishes) {
          last = times[index] ?? 0;
          seeker.request(aimAt(known, last));
          if (arrives) arrive();
        }
        for (let count = 0; count < 3; count += 1) arrive();
        return sameFrame(known, shown, last);
      }),
    );
  });
});

describe("playing", () => {
  const evidence: Playing = {
    what: "evidence",
    title: "ripostes",
    stretches: [
      { from: 0, to: 500 },
      { from: 2000, to: 2500 },
    ],
    index: 0,
    done: false,
  };

  test("evidence goes from stretch to stretch and stops after the last", () => {
    expect(onFrame(evidence, 300)[1]).toEqual({ do: "nothing" });
    const [second, jump] = onFrame(evidence, 500);
    expect(jump).toEqual({ do: "jump", to: 2000 });
    expect(caption(second)).toBe("ripostes: 2 of 2");
    const [last, stop] = onFrame(second, 2520);
    expect(stop).toEqual({ do: "stop" });
    expect(caption(last)).toBe("ripostes: all 2 played");
    expect(onFrame(last, 2600)[1]).toEqual({ do: "nothing" });
    expect(nextStretch(evidence)[1]).toEqual({ do: "jump", to: 2000 });
  });

  test("a phrase comes round again with some time around it", () => {
    const stretch = stretchOf({ at: 5000, until: 7000 });
    expect(stretch.from).toBeLessThan(5000);
    expect(stretch.to).toBeGreaterThan(7000);
    expect(stretchOf({ at: 100, until: null }).from).toBe(0);
    expect(onFrame({ what: "again", stretch }, stretch.to)[1]).toEqual({ do: "jump", to: stretch.from });
  });

  test("speeds go up and down one by one and end", () => {
    expect(nextSpeed(1, 1)).toBe(1.5);
    expect(nextSpeed(1, -1)).toBe(0.75);
    expect(nextSpeed(0.1, -1)).toBe(0.1);
    expect(nextSpeed(4, 1)).toBe(4);
  });
});

describe("the clock without a recording", () => {
  test("runs at its speed, steps, and never goes below nothing", () => {
    let now = 0;
    const clock = new HandClock(
      () => undefined,
      1000,
      () => now,
    );
    clock.play();
    now = 500;
    expect(clock.at).toBe(1500);
    clock.setSpeed(2);
    now = 600;
    expect(clock.at).toBe(1700);
    clock.step(1);
    expect(clock.playing).toBe(false);
    expect(clock.at).toBe(1740);
    clock.show(-5);
    expect(clock.at).toBe(0);
  });
});

describe("zooming", () => {
  test("keeps the point under the pointer where it is", () => {
    const zoom = zoomAbout(whole, 2, 0.25, 0.5);
    // A point of the picture lies at its place times the scale, moved: the pointer's point stays.
    expect(0.25 * zoom.scale + zoom.x).toBeCloseTo(0.25, 9);
    expect(0.5 * zoom.scale + zoom.y).toBeCloseTo(0.5, 9);
  });

  test("never leaves an edge of the box bare", () => {
    const zoom = moved(zoomAbout(whole, 3, 0.5, 0.5), 5, -5);
    expect(zoom.x).toBe(0);
    expect(zoom.y).toBe(-2);
    expect(zoomAbout(zoom, 0.01, 0, 0)).toEqual({ scale: 1, x: 0, y: 0 });
  });

  test("the picture is as large as its box allows", () => {
    expect(fitted(1600, 500, 16 / 9)).toEqual({ width: 889, height: 500 });
    expect(fitted(320, 500, 16 / 9)).toEqual({ width: 320, height: 180 });
  });
});
