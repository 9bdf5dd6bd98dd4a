// Makes what the extension ships as its demo: media/demo/demo.bout.json and media/demo/demo.mp4.
// `node test/demo/build.mjs` writes both; with `--text` the bout file only.
import { mkdir, writeFile } from "node:fs/promises";
import { boutFileText } from "./log.mjs";

const folder = new URL("../../media/demo/", import.meta.url);

await mkdir(folder, { recursive: true });
await writeFile(new URL("demo.bout.json", folder), boutFileText());
if (!process.argv.includes("--text")) {
  const { drawRecording, recordingFile } = await import("./draw.mjs");
  await drawRecording(recordingFile);
}
