import { expect, test } from "vitest";
import { coverage, quantities } from "./simulated";

test("over 2500 cameras 1 to 5 m up and 5 to 12 m off, on either side, 93 to 97 in 100 moves lie within their error", () => {
  const held = coverage(2500, 3);
  for (const quantity of quantities) {
    expect(held[quantity], quantity).toBeGreaterThan(0.93);
    expect(held[quantity], quantity).toBeLessThan(0.97);
  }
}, 60_000);
