// The system's own Chromium, driven through playwright-core, with the services switched off that a test can do without.
import { chromium } from "./setup.mjs";

export async function launchChromium() {
  const { chromium: driver } = await import("playwright-core");
  const executablePath = chromium();
  if (executablePath === undefined) throw new Error("Chromium is missing: run node test/run/setup.mjs");
  return driver.launch({
    executablePath,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--autoplay-policy=no-user-gesture-required",
    ],
  });
}
