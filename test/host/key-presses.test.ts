import { expect, test } from "vitest";
import { KeyPresses } from "../../src/host/key-presses";

const frame = (at: number) => ({ at, frame: 20 });

test("a command takes the frame its own key press was made at, in the order of the presses", () => {
  const presses = new KeyPresses();
  presses.press("KeyF", frame(1000), 0);
  presses.press("KeyK", frame(1040), 40);
  presses.press("KeyF", frame(1080), 80);
  expect(presses.take("KeyF", 120)?.at).toBe(1000);
  expect(presses.take("KeyK", 120)?.at).toBe(1040);
  expect(presses.take("KeyF", 160)?.at).toBe(1080);
  expect(presses.take("KeyF", 160)).toBeUndefined();
});

test("a press that never became a command does not stand in for a later one", () => {
  const presses = new KeyPresses();
  presses.press("KeyF", frame(1000), 0);
  presses.press("KeyF", frame(9000), 2000);
  expect(presses.take("KeyF", 2060)?.at).toBe(9000);
});

test("a command that comes very late still finds its press", () => {
  const presses = new KeyPresses();
  presses.press("KeyF", frame(1000), 0);
  presses.press("KeyF", frame(1100), 100);
  expect(presses.take("KeyF", 3000)?.at).toBe(1100);
});

test("presses of long ago are forgotten", () => {
  const presses = new KeyPresses();
  presses.press("KeyF", frame(1000), 0);
  expect(presses.take("KeyF", 10_001)).toBeUndefined();
});

test("a key held down for long does not push another key's press out", () => {
  const presses = new KeyPresses();
  presses.press("KeyV", frame(500), 0);
  for (let count = 0; count < 200; count += 1) presses.press("ArrowRight", frame(500 + count), count);
  expect(presses.take("KeyV", 250)?.at).toBe(500);
});
