import { expect, test } from "vitest";
import { longBout } from "../bench/bouts";
import { figuresOf, pageOf, studied } from "./sheets";
import { fault } from "./well-formed";

test("two thousand phrases make a well-formed page of less than a megabyte, soon enough to follow the tagging", () => {
  const study = studied(longBout(2000, "long.mp4"));
  const figures = figuresOf(study);
  const page = pageOf(study, figures);
  expect(fault(page)).toBeUndefined();
  expect(page.length).toBeLessThan(1_000_000);
  // Milliseconds of processor time, which a busy machine does not stretch as it does the clock; 30 when warm and at rest.
  const times = Array.from({ length: 12 }, () => {
    const before = process.cpuUsage();
    pageOf(study, figures);
    return process.cpuUsage(before).user / 1000;
  });
  expect(Math.min(...times)).toBeLessThan(100);
}, 60_000);
