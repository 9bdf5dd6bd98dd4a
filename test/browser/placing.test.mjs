// Fitting the floor and marking the platforms by pressing on the picture, and the drawings that follow from it.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { runTests, test } from "./harness.mjs";

const log = (editor) =>
  JSON.parse(readFileSync(path.join(editor.folder, "demo.bout.json"), "utf8").replace(/^\s*\/\/.*$/gm, ""))
    .log;

test("four strips of tape give the floor, with the grid over it and what the camera can tell", async (editor) => {
  await editor.open("demo.bout.json");
  const viewer = editor.viewer();
  await viewer.locator(".ledger").filter({ hasText: "Vessa Tarn" }).waitFor();
  await viewer.locator("video").waitFor();
  await editor.page.waitForTimeout(1500);
  const { points } = log(editor).find(({ kind }) => kind === "fit");
  await editor.command("Boutline: Place points to fit the floor");
  const panel = viewer.locator(".placing");
  await panel.getByText("Press on the left tape, near end").waitFor();
  for (const [x, y] of [points[0], points[2], points[3], points[4]].map(({ image }) => image))
    await press(viewer, x, y);
  await panel.getByText("4 points give the whole floor").waitFor();
  await panel.getByText(/One move shows to within ± \d\.\d cm along/).waitFor();
  assert.ok((await viewer.locator(".floor-lines path").count()) > 20);
  // A fifth point, its place on the floor typed in, shows how far off the points are.
  await press(viewer, ...points[1].image);
  await panel.getByLabel("Point 5, metres across the piste").fill("-1");
  await panel.getByLabel("Point 5, metres across the piste").press("Enter");
  await panel
    .getByText(/\d\.\d cm off/)
    .first()
    .waitFor();
  await editor.screenshot("placing-fit");
  await panel.getByRole("button", { name: /^leave/ }).click();
  assert.equal(await viewer.locator(".floor-lines").count(), 0);
});

test("platforms show their last place, a fixed point is checked, and the next place to mark is named", async (editor) => {
  const viewer = editor.viewer();
  await viewer.locator(".line [role=slider]").press("End");
  await editor.page.waitForTimeout(800);
  await editor.command("Boutline: Place the corners of the platforms");
  const panel = viewer.locator(".placing");
  await panel.getByText("Press on the inner corner").waitFor();
  assert.equal(await viewer.locator(".floor-lines .ghost.over").count(), 2);
  await panel.getByRole("button", { name: "check a fixed point" }).click();
  const { points } = log(editor).find(({ kind }) => kind === "fit");
  const [x, y] = points[2].image;
  await press(viewer, x, y - 0.05);
  await panel.getByText(/Point 3 of the fit now lies \d+\.\d cm off: the camera has moved/).waitFor();
  await panel.getByText(/Next place to mark:|No other still moment/).waitFor();
  await editor.screenshot("placing-platforms");
  await panel.getByRole("button", { name: /^leave/ }).click();
});

test("where the platforms stand is drawn in the viewer, in every theme", async (editor) => {
  const viewer = editor.viewer();
  await viewer.getByText("Where the platforms stand").click();
  await viewer.locator(".tracks svg.plan").waitFor();
  for (const [theme, name] of [
    ["Dark Modern", "dark"],
    ["Light Modern", "light"],
    ["Default High Contrast", "high-contrast"],
  ]) {
    await editor.theme(theme);
    await viewer.locator(".tracks svg.plan").scrollIntoViewIfNeeded();
    await editor.page.waitForTimeout(600);
    await editor.screenshot(`tracks-${name}`);
  }
});

/** Presses on the picture at fractions of the frame. */
async function press(viewer, x, y) {
  const box = await viewer.locator("video").first().boundingBox();
  await viewer
    .locator(".stage")
    .first()
    .click({ position: await inStage(viewer, box, x, y) });
}

async function inStage(viewer, film, x, y) {
  const stage = await viewer.locator(".stage").first().boundingBox();
  return { x: film.x - stage.x + x * film.width, y: film.y - stage.y + y * film.height };
}

await runTests();
