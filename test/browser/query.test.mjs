// A query in the editor: its answer in a panel, each row playing its phrase.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { runTests, test } from "./harness.mjs";

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
