// Brings what follows from the tables up to date: the schemas in media/, src/bout/shapes.json, and the generated parts of
// package.json.
//   npm run schema
import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import esbuild from "esbuild";
import { checkout } from "./places.mjs";

const { outputFiles } = await esbuild.build({
  absWorkingDir: checkout,
  entryPoints: ["src/host/generated.ts"],
  bundle: true,
  write: false,
  platform: "node",
  format: "esm",
  mainFields: ["module", "main"],
});
const code = Buffer.from(outputFiles[0].contents).toString("base64");
const { currentManifest, editionSchemaText, picksSchemaText, planSchemaText, schemaText, shapesText } =
  await import(`data:text/javascript;base64,${code}`);

update(path.join(checkout, "media", "bout.schema.json"), () => schemaText());
update(path.join(checkout, "media", "edition.schema.json"), () => editionSchemaText());
update(path.join(checkout, "media", "picks.schema.json"), () => picksSchemaText());
update(path.join(checkout, "src", "bout", "shapes.json"), () => shapesText());
update(path.join(checkout, "media", "plan.schema.json"), () => planSchemaText());
update(path.join(checkout, "package.json"), currentManifest);

function update(file, textFrom) {
  let before = "";
  try {
    before = readFileSync(file, "utf8");
  } catch (error) {
    if (error.code !== "ENOENT") throw error;
  }
  const after = textFrom(before);
  if (after !== before) writeFileSync(file, after);
  console.log(`${path.relative(checkout, file)}: ${after === before ? "was current" : "written"}`);
}
