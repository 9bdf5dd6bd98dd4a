// Takes the README's pictures of the real thing into media/readme (after `npm run build && node test/run/test.mjs package`).
import { mkdirSync } from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { checkout } from "../run/places.mjs";
import { openEditor } from "./harness.mjs";

const folder = path.join(checkout, "media", "readme");
mkdirSync(folder, { recursive: true });
const editor = await openEditor({ files: ["demo.bout.json"], viewport: { width: 1840, height: 1040 } });
try {
  const { page } = editor;
  const viewer = editor.viewer();
  await viewer.locator("video").first().waitFor({ state: "attached", timeout: 90_000 });
  await pause(5000);
  await page.keyboard.press("Control+b");
  await pause(1500);
  // The text needs less room than the viewer: the border between the two groups is drawn to the right.
  const text = await page.locator(".editor-group-container").nth(1).boundingBox();
  await page.mouse.move(text.x, 500);
  await page.mouse.down();
  await page.mouse.move(1290, 500, { steps: 8 });
  await page.mouse.up();
  await pause(1500);
  await viewer.locator(".stage").click();
  await pause(1200);
  await viewer.locator("input.time").first().fill("0:01:16.400");
  await page.keyboard.press("Enter");
  await pause(2500);
  for (const [theme, name] of [
    ["Dark Modern", "viewer-dark"],
    ["Light Modern", "viewer-light"],
  ]) {
    await editor.theme(theme);
    await pause(1500);
    await page.screenshot({ path: path.join(folder, `${name}.png`) });
  }
} finally {
  await editor.close();
}
