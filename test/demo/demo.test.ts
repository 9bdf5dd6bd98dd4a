import { describe, expect, it } from "vitest";
import { floorToImage } from "./camera.mjs";
import { begins, type Entry, file, frameOf, log, milliseconds, of, problems, text } from "./demo-file";
import { boutFileText, log as expectedLog } from "./log.mjs";
import { finalScore, frames, phrases, scoreAt } from "./timeline.mjs";
import { clickNoise, edgesInImage, frameAt, homography, type Point, tapeMarks } from "./truth.mjs";

describe("the demo's bout file", () => {
  it("is what the scenario says, and parses without a problem", () => {
    expect(problems).toEqual([]);
    expect(text).toBe(boutFileText());
    expect(file.boutline).toBe(1);
    expect(file.recordings).toEqual([{ file: "demo.mp4" }]);
    expect(log).toEqual(expectedLog);
  });

  it("is in time order, with at least 40 closed phrases that do not overlap", () => {
    const times = log.map(begins);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    const closed = of("phrase").filter((entry) => entry.halt !== undefined && entry.award !== undefined);
    expect(closed.length).toBeGreaterThanOrEqual(40);
    closed.forEach((entry, index) => {
      const fenced = milliseconds(entry.halt ?? "") - begins(entry);
      expect(fenced).toBeGreaterThanOrEqual(800);
      expect(fenced).toBeLessThanOrEqual(2500);
      const next = closed[index + 1];
      if (next !== undefined) expect(begins(next)).toBeGreaterThan(milliseconds(entry.halt ?? ""));
    });
  });

  it("writes every time as the presentation time of a frame of the recording", () => {
    const times = log.flatMap(({ at, start, halt, until }) =>
      [at, start, halt, until].filter((time) => time !== undefined),
    );
    for (const time of times) {
      expect(milliseconds(time) % 40, time).toBe(0);
      expect(frameOf(time), time).toBeLessThan(frames);
    }
  });

  it("tells of everything a newcomer should meet", () => {
    expect(of("review").map((entry) => [entry.by, entry.result])).toEqual([
      ["left", "kept"],
      ["right", "changed"],
      ["referee", "decided"],
    ]);
    expect(of("card").map((entry) => [entry.to, entry.card])).toEqual([
      ["both", "yellow"],
      ["right", "red"],
      ["left", "red"],
    ]);
    for (const kind of ["shot", "fit", "platforms", "distance", "stop", "board", "period", "note", "end"]) {
      expect(of(kind).length, kind).toBeGreaterThan(0);
    }
    const because = new Set(of("phrase").map((entry) => entry.because));
    expect([...because].sort()).toEqual(["early start", "no lamp", "off-target", "simultaneous", undefined]);
  });

  it("gives touches only to a side whose lamp is valid, and one touch a phrase at most", () => {
    for (const entry of of("phrase")) {
      expect(["left", "right", "none", "pending"]).toContain(entry.award);
      if (entry.award === "left" || entry.award === "right") expect(entry.lamps?.[entry.award]).toBe("valid");
      if (entry.award !== "none") expect(entry.because).toBeUndefined();
    }
  });

  it("adds up to 12-15 by plain counting, and one scoreboard entry alone disagrees", () => {
    const score = { left: 0, right: 0 };
    const add = (side: string | undefined, times: number) => {
      if (side === "left" || side === "both") score.left += times;
      if (side === "right" || side === "both") score.right += times;
    };
    let last: Entry | undefined;
    const wrong: string[] = [];
    for (const entry of log) {
      if (entry.kind === "phrase") {
        last = entry;
        add(entry.award, 1);
        add(entry.annulled, -1);
      } else if (entry.kind === "review" && entry.award !== undefined) {
        add(last?.award, -1);
        add(entry.award, 1);
      } else if (entry.kind === "card" && entry.card === "red") {
        add(entry.to === "left" ? "right" : "left", 1);
      } else if (entry.kind === "board") {
        const agrees = entry.score?.[0] === score.left && entry.score[1] === score.right;
        if (!agrees) wrong.push(`${entry.at ?? ""} ${String(entry.score)} for ${score.left},${score.right}`);
        if (!agrees) expect(entry.confirmed).toBeUndefined();
      }
      const over = Math.max(score.left, score.right) >= 15;
      if (over) expect(begins(entry)).toBeGreaterThanOrEqual(milliseconds(of("phrase").at(-1)?.start ?? ""));
    }
    expect([score.left, score.right]).toEqual([12, 15]);
    expect(finalScore).toEqual([12, 15]);
    expect(wrong).toEqual(["0:01:11.160 8,8 for 8,9"]);
  });

  it("shows on every scoreboard the clock that three minutes less the fencing time leave", () => {
    let used = 0;
    for (const entry of log) {
      if (entry.kind === "period") used = 0;
      if (entry.kind === "phrase" && entry.play !== false)
        used += milliseconds(entry.halt ?? "") - begins(entry);
      if (entry.kind !== "board") continue;
      const left = Math.ceil((180000 - used) / 1000);
      expect(entry.clock, entry.at).toBe(`${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}`);
    }
    expect(used).toBeLessThan(180000);
  });

  it("writes every scoreboard as the recording shows it, the wrong one too", () => {
    for (const entry of of("board")) {
      expect(scoreAt(frameOf(entry.at ?? "")).shown, entry.at).toEqual(entry.score);
    }
  });
});

describe("the demo's clicked points", () => {
  it("lie where the camera sees the true corners and tape marks, within the stated click noise", () => {
    const errors: number[] = [];
    const compare = (clicked: Point, exact: Point) =>
      errors.push(clicked[0] - exact[0], clicked[1] - exact[1]);
    for (const entry of of("fit")) {
      expect(entry.points?.map((point) => point.floor)).toEqual(tapeMarks);
      for (const { image, floor } of entry.points ?? []) compare(image, floorToImage(floor));
    }
    for (const entry of of("platforms")) {
      const exact = edgesInImage(frameOf(entry.at ?? ""));
      for (const side of ["left", "right"] as const) {
        const [inner, outer] = entry[side] ?? expect.fail("a side is missing");
        compare(inner, exact[side][0]);
        compare(outer, exact[side][1]);
      }
    }
    expect(errors.length).toBeGreaterThan(250);
    const spread = Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
    expect(spread / clickNoise).toBeGreaterThan(0.85);
    expect(spread / clickNoise).toBeLessThan(1.15);
    expect(Math.max(...errors.map(Math.abs))).toBeLessThan(4.5 * clickNoise);
  });

  it("come from a homography that says the same as the camera", () => {
    for (const [x, y] of [...tapeMarks, [0.3, -0.7]] as Point[]) {
      const [u, v, w] = homography.map((row) => row[0] * x + row[1] * y + row[2]) as [number, number, number];
      const [across, down] = floorToImage([x, y]);
      expect(u / w).toBeCloseTo(across, 12);
      expect(v / w).toBeCloseTo(down, 12);
    }
  });

  it("are clicked while the platforms stand still", () => {
    for (const entry of of("platforms")) {
      const frame = frameOf(entry.at ?? "");
      expect(frameAt(frame - 1)).toEqual(frameAt(frame + 1));
    }
  });

  it("show a frame that creeps to the right when the left fencer opens, and that a re-centre brings back", () => {
    const moved = { left: 0, right: 0 };
    const opened = { left: 0, right: 0 };
    for (const phrase of phrases) {
      const opener = phrase.timed.find((action) => /attack|line/.test(action.name))?.side;
      if (opener !== "left" && opener !== "right") continue;
      moved[opener] += frameAt(phrase.halt).along - frameAt(phrase.start).along;
      opened[opener]++;
    }
    expect(moved.left / opened.left).toBeGreaterThan(0.025);
    expect(Math.abs(moved.right / opened.right)).toBeLessThan(0.01);
    const recentred = log.filter(
      (entry) => entry.kind === "stop" && JSON.stringify(entry).includes("re-centre"),
    );
    expect(recentred.length).toBeGreaterThanOrEqual(4);
    for (const stop of recentred) {
      expect(frameAt(frameOf(stop.at ?? "")).along).toBeGreaterThan(0.1);
      expect(Math.abs(frameAt(frameOf(stop.until ?? "")).along)).toBeLessThan(0.02);
    }
  });
});
