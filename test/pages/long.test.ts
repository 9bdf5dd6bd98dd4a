import { expect, test } from "vitest";
import { longBout } from "../bench/bouts";
import { figuresOf, pageOf, studied } from "./sheets";
import { fault } from "./well-formed";

test("two thousand phrases make a well-formed page of less than a megabyte", () => {
  const study = studied(longBout(2000, "long.mp4"));
  const figures = figuresOf(study);
  const page = pageOf(study, figures);
  expect(fault(page)).toBeUndefined();
  expect(page.length).toBeLessThan(1_000_000);
});
