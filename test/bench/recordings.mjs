// What Boutline's own work costs beside ffmpeg's: making a viewing copy, and reading when each frame appears.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { closeSync, mkdtempSync, openSync, rmSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { checkout } from "../run/places.mjs";

const seconds = 150;
const rounds = { copy: 2, probe: 7 };

/** `row` takes what was measured, in words, the limit and whether it was met. */
export async function recordings(row) {
  const folder = mkdtempSync(path.join(tmpdir(), "boutline-bench-"));
  try {
    const video = await videoRoom(folder);
    const file = path.join(folder, "long.mp4");
    await run("ffmpeg", [
      ...["-v", "error", "-f", "lavfi", "-i", `testsrc2=size=1280x720:rate=50:duration=${seconds}`],
      ...["-f", "lavfi", "-i", `sine=frequency=440:duration=${seconds}`, "-vf", "noise=alls=12:allf=t"],
      ...[
        "-c:v",
        "libx264",
        "-preset",
        "ultrafast",
        "-crf",
        "26",
        "-pix_fmt",
        "yuv420p",
        "-g",
        "250",
        "-bf",
        "0",
      ],
      ...["-c:a", "aac", file],
    ]);
    const size = `${seconds} s at 720p50, ${(statSync(file).size / 1e6).toFixed(0)} MB`;
    await probing(video, folder, file, row);
    await copying(video, folder, file, size, row);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function probing(video, folder, file, row) {
  const long = path.join(folder, "longer.mp4");
  await run("ffmpeg", ["-v", "error", "-stream_loop", "5", "-i", file, "-c", "copy", long]);
  for (const [one, minutes] of [
    [file, seconds / 60],
    [long, (6 * seconds) / 60],
  ]) {
    const size = `${minutes} minutes at 720p50, ${(statSync(one).size / 1e6).toFixed(0)} MB`;
    await probed(video, folder, one, size, row);
  }
  rmSync(long);
}

async function probed(video, folder, file, size, row) {
  const listing = ["-v", "error", "-select_streams", "v:0", "-show_entries", "packet=pts,dts,flags"];
  const list = path.join(folder, "list.csv");
  const ours = [];
  const bare = [];
  const kept = [];
  for (let round = 0; round <= rounds.probe; round++) {
    const handle = openSync(list, "w");
    const written = await timed(() => run("ffprobe", [...listing, "-of", "csv=p=0", file], handle));
    closeSync(handle);
    // Into nothing ffprobe writes its list faster than anybody can have it.
    const alone = await timed(() => run("ffprobe", [...listing, "-of", "csv=p=0", file]));
    const cacheDir = mkdtempSync(path.join(folder, "tables-"));
    const told = await timed(() => video.probe(file, { cacheDir }));
    if (!told.result.ok) throw new Error(told.result.problem.message);
    // The first round only warms the disk's cache.
    if (round === 0) continue;
    bare.push(alone.milliseconds);
    kept.push(written.milliseconds);
    ours.push(told.milliseconds);
  }
  const ratio = median(ours) / median(bare);
  row(
    `probe and frame times of a recording (${size})`,
    `${ratio.toFixed(2)} times ffprobe's packet listing (${median(ours).toFixed(0)} ms against ${median(bare).toFixed(0)} ms; ${median(kept).toFixed(0)} ms where the list is kept)`,
    "at most 1.2 times",
    ratio <= 1.2,
  );
}

async function copying(video, folder, file, size, row) {
  const cacheDir = path.join(folder, "tables");
  const reading = await video.readingOf(file, { cacheDir });
  const program = await video.findProgram("ffmpeg");
  if (!reading.ok || !program.ok) throw new Error("The recording can't be read.");
  const { metadata, index } = reading.value;
  const options = video.copyOptions("whole", metadata, index, 540, program.value);
  let ours = 0;
  let bare = 0;
  for (let round = 0; round < rounds.copy; round++) {
    const out = path.join(folder, `bare-${round}.mp4`);
    const words = ["-nostdin", "-v", "error", "-copyts", "-i", file, ...options, "-y", out];
    bare += (await timed(() => run("ffmpeg", words))).milliseconds;
    const copies = new video.Copies({ folder: path.join(folder, `copies-${round}`), cacheDir });
    const made = await timed(() => copies.make(file, "whole"));
    if (!made.result.ok) throw new Error(made.result.problem.message);
    ours += made.milliseconds;
  }
  const speed = bare / ours;
  row(
    `a viewing copy (${size})`,
    `${speed.toFixed(2)} times the speed of the same ffmpeg command run bare (${(ours / rounds.copy / 1000).toFixed(1)} s against ${(bare / rounds.copy / 1000).toFixed(1)} s)`,
    "at least 0.9 times",
    speed >= 0.9,
  );
}

/** The room as this process can load it, with what its copies are made by. */
async function videoRoom(folder) {
  const { build } = await import("esbuild");
  const outfile = path.join(folder, "video.cjs");
  await build({
    stdin: {
      contents: `export * from "./index"; export { copyOptions } from "./recipe"; export { readingOf } from "./frame-index";`,
      resolveDir: path.join(checkout, "src", "video"),
      loader: "ts",
    },
    ...{ outfile, bundle: true, platform: "node", format: "cjs", mainFields: ["module", "main"] },
    define: { "process.env.FLUENTFFMPEG_COV": "undefined" },
    logLevel: "error",
  });
  return createRequire(import.meta.url)(outfile);
}

async function run(program, words, output = "ignore") {
  const child = spawn(program, words, { stdio: ["ignore", output, "inherit"] });
  child.stdout?.resume();
  const [code] = await once(child, "close");
  if (code !== 0) throw new Error(`${program} ended with ${code}.`);
}

async function timed(work) {
  const start = performance.now();
  const result = await work();
  return { result, milliseconds: performance.now() - start };
}

function median(values) {
  return values.toSorted((one, other) => one - other)[values.length >> 1];
}
