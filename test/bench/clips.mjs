// What cutting clips costs: 40 of 6 seconds out of an hour, beside plain ffmpeg commands on the same cores, in one run.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { checkout } from "../run/places.mjs";

const minutes = 60;
const clips = 40;
const long = 6;
/** Clips cut by decoding from the beginning, spread over the hour; their time is scaled to all. */
const decoded = 2;
/** What is compared takes turns, so that other work on the machine weighs on all alike. */
const turns = 4;

/** `row` takes what was measured, in words, the limit and whether it was met. */
export async function clipsBench(row) {
  const folder = mkdtempSync(path.join(tmpdir(), "boutline-bench-"));
  try {
    const video = await clipsRoom(folder);
    const minute = path.join(folder, "minute.mp4");
    const file = path.join(folder, "hour.mp4");
    await run("ffmpeg", [
      ...["-v", "error", "-f", "lavfi", "-i", "testsrc2=size=960x540:rate=25:duration=60"],
      ...["-f", "lavfi", "-i", "sine=frequency=440:duration=60", "-c:v", "libx264", "-preset", "ultrafast"],
      ...["-crf", "26", "-pix_fmt", "yuv420p", "-g", "250", "-bf", "2", "-c:a", "aac", minute],
    ]);
    // The same minute sixty times, not encoded again.
    const repeat = ["-v", "error", "-stream_loop", String(minutes - 1), "-i", minute, "-c", "copy", file];
    await run("ffmpeg", repeat);
    await cutting(video, folder, file, row);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function cutting(video, folder, file, row) {
  const cacheDir = path.join(folder, "tables");
  const starts = Array.from({ length: clips }, (_, index) => 40 + (index * (minutes * 60 - 120)) / clips);
  const plan = starts.map((from, index) => ({
    source: file,
    from,
    to: from + long - 0.04,
    name: `c${index}`,
  }));
  const encode = ["-c:v", "libx264", "-preset", "veryfast", "-crf", "18", "-pix_fmt", "yuv420p"];
  const sound = ["-c:a", "libmp3lame", "-q:a", "2"];
  const size = `${clips} clips of ${long} s from ${minutes} minutes at 540p25, ${(statSync(file).size / 1e6).toFixed(0)} MB`;

  const chosen = starts.filter(
    (_, index) => index % Math.floor(clips / decoded) === Math.floor(clips / decoded / 2),
  );
  let whole = 0;
  for (const [index, from] of chosen.entries()) {
    const out = path.join(folder, `whole-${index}.mp4`);
    const cut = ["-i", file, "-ss", String(from), "-t", String(long), ...encode, ...sound, out];
    whole += await timed(() => run("ffmpeg", ["-v", "error", "-y", ...cut]));
  }
  whole *= clips / chosen.length;

  const time = { ours: 0, loop: 0, reel: 0, copy: 0 };
  for (let turn = 0; turn < turns; turn++) {
    const mine = (_, index) => index % turns === turn;
    const some = plan.filter(mine);
    // The table of frames is read by opening the recording in the viewer; the first turn counts it all the same.
    time.ours += await timed(async () =>
      good(await video.cutClips(some, { cacheDir, folder: path.join(folder, `ours-${turn}`) })),
    );
    time.loop += await timed(async () => {
      for (const [index, from] of starts.filter(mine).entries()) {
        const out = path.join(folder, `loop-${turn}-${index}.mp4`);
        const cut = ["-ss", String(from), "-i", file, "-t", String(long), ...encode, ...sound, out];
        await run("ffmpeg", ["-v", "error", "-y", ...cut]);
      }
    });
    time.reel += await timed(async () =>
      good(await video.cutReel(some, path.join(folder, `reel-${turn}.mp4`), 40 / turns, { cacheDir })),
    );
    const copied = ["-i", file, "-t", String(some.length * long), "-c", "copy"];
    time.copy += await timed(() =>
      run("ffmpeg", ["-v", "error", "-y", ...copied, path.join(folder, "copy.mp4")]),
    );
  }
  const { ours, loop, reel, copy } = time;
  const seconds = (milliseconds) => `${(milliseconds / 1000).toFixed(1)} s`;
  row(
    size,
    `${(whole / ours).toFixed(1)} times as fast as one command a clip that decodes from the beginning (${seconds(ours)} against ${seconds(whole)}, scaled from ${chosen.length} clips)`,
    "at least 5 times",
    whole / ours >= 5,
  );
  row(
    "the same, beside a plain loop that seeks and encodes",
    `${(ours / loop).toFixed(2)} times its time (${seconds(ours)} against ${seconds(loop)})`,
    "at most 1 time",
    ours <= loop,
  );
  row(
    `reels of them, ${clips / turns} clips each`,
    `${(reel / (ours + copy)).toFixed(2)} times the time of its clips and a copy (${seconds(reel)} against ${seconds(ours + copy)})`,
    "at most 1 time",
    reel <= ours + copy,
  );
}

function good(result) {
  if (!result.ok) throw new Error(result.problem.message);
}

async function clipsRoom(folder) {
  const { build } = await import("esbuild");
  const outfile = path.join(folder, "clips.cjs");
  await build({
    entryPoints: [path.join(checkout, "src", "video", "clips", "index.ts")],
    ...{ outfile, bundle: true, platform: "node", format: "cjs", mainFields: ["module", "main"] },
    define: { "process.env.FLUENTFFMPEG_COV": "undefined" },
    logLevel: "error",
  });
  return createRequire(import.meta.url)(outfile);
}

async function run(program, words) {
  const child = spawn(program, ["-nostdin", ...words], { stdio: ["ignore", "ignore", "inherit"] });
  const [code] = await once(child, "close");
  if (code !== 0) throw new Error(`${program} ended with ${code}.`);
}

async function timed(work) {
  const start = performance.now();
  await work();
  return performance.now() - start;
}
