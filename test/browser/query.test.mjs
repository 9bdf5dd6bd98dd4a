// A query in the editor: its answer in a panel, each row playing its phrase.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { checkout } from "../run/places.mjs";
import { runTests, test, themes } from "./harness.mjs";

const axe = readFileSync(path.join(checkout, "node_modules", "axe-core", "axe.min.js"), "utf8");

test("the text of a .sql file in front is asked, and its answer is shown", async (editor) => {
  writeFileSync(
    path.join(editor.folder, "ripostes.sql"),
    "-- ripostes that brought a touch\nselect bout, entry, phrase, actions, award\nfrom phrases\nwhere scoring_action = 'riposte'\n",
  );
  await editor.open("ripostes.sql");
  await editor.command("Boutline: Query the phrases");
  const answer = await answerOf(editor);
  await answer.locator("p", { hasText: "phrases in 1 bout" }).waitFor();
  assert.ok((await answer.locator("button.evidence").count()) > 0);
  await editor.screenshot("query");
});

for (const name of Object.keys(themes))
  test(`axe finds nothing in the answer, its columns unfolded: ${name}`, async (editor) => {
    await editor.theme(name);
    // Colours of a page fade into those of the theme.
    await editor.page.waitForTimeout(600);
    const body = (await answerOf(editor)).locator("body");
    await body.evaluate((_, source) => (0, eval)(source), axe);
    const { violations } = await body.evaluate(() => {
      for (const one of document.querySelectorAll("details")) one.open = true;
      return globalThis.axe.run(document);
    });
    assert.deepEqual(
      violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 120)} ${nodes[0].failureSummary}`),
      [],
    );
    await editor.screenshot(`query ${name}`);
  });

test("a row plays its phrase in the viewer", async (editor) => {
  const answer = await answerOf(editor);
  await answer.locator("button.evidence").first().click();
  await editor.viewer().locator(".ledger").filter({ hasText: "Vessa Tarn" }).waitFor();
  await editor.page.waitForTimeout(1500);
  await editor.screenshot("query-playing");
});

async function answerOf({ page }) {
  for (let tries = 0; tries < 100; tries++) {
    for (const frame of page.frames())
      if (
        (await frame
          .locator("h1", { hasText: "Answer to a query" })
          .count()
          .catch(() => 0)) > 0
      )
        return frame;
    await page.waitForTimeout(200);
  }
  throw new Error("there is no panel with an answer");
}

await runTests();
