// Draws the demo recording and has ffmpeg write it: `node test/demo/draw.mjs [FILE]` (default media/demo/demo.mp4).
//
// 960 by 540 at 25 frames a second, H.264 with a key frame at least every 12 frames and no B-frames, so that seeking is quick,
// and MP3 sound, which desktop VS Code can decode. Drawing is seeded: the same pictures every time.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { height, width } from "./camera.mjs";
import { drawFrame } from "./picture.mjs";
import { framesPerSecond } from "./scenario.mjs";
import { soundTrack } from "./sound.mjs";
import { frames } from "./timeline.mjs";

export const recordingFile = fileURLToPath(new URL("../../media/demo/demo.mp4", import.meta.url));

function encoding(sound, file) {
  return [
    ...["-hide_banner", "-loglevel", "error", "-y"],
    ...[
      "-f",
      "rawvideo",
      "-pix_fmt",
      "rgba",
      "-video_size",
      `${width}x${height}`,
      "-framerate",
      `${framesPerSecond}`,
    ],
    ...["-i", "pipe:0", "-i", `file:${sound}`, "-map", "0:v", "-map", "1:a", "-map_metadata", "-1"],
    ...["-vf", "scale=out_color_matrix=bt709:out_range=tv,format=yuv420p"],
    ...["-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709"],
    ...["-c:v", "libx264", "-preset", "slower", "-crf", "33.5", "-bf", "0", "-g", "12", "-sc_threshold", "0"],
    // A drawn picture without grain: no bits for the look of noise, and key frames little better than the others.
    ...["-x264-params", "psy=0:aq-mode=1:aq-strength=0.8:ipratio=1.2"],
    ...["-c:a", "libmp3lame", "-b:a", "32k", "-ac", "1", "-fflags", "+bitexact", "-flags", "+bitexact"],
    ...["-movflags", "+faststart", `file:${file}`],
  ];
}

/** Draws all frames into a file; resolves when ffmpeg has finished, rejects with its message when it fails. */
export async function drawRecording(file) {
  const folder = await mkdtemp(path.join(os.tmpdir(), "boutline-demo-"));
  try {
    const sound = path.join(folder, "sound.wav");
    await writeFile(sound, soundTrack());
    const ffmpeg = spawn("ffmpeg", encoding(sound, file), { stdio: ["pipe", "inherit", "pipe"] });
    let message = "";
    ffmpeg.stderr.on("data", (chunk) => (message += chunk));
    ffmpeg.stdin.on("error", () => {}); // ffmpeg's own message and status tell more than the broken pipe
    const finished = new Promise((resolve, reject) => {
      ffmpeg.on("error", (cause) => reject(new Error("ffmpeg could not be started; install it", { cause })));
      ffmpeg.on("close", (status) =>
        status === 0 ? resolve() : reject(new Error(`ffmpeg: ${message.trim()}`)),
      );
    });
    const writing = (async () => {
      for (let frame = 0; frame < frames; frame++) {
        const pixels = Buffer.from(drawFrame(frame).data());
        if (!ffmpeg.stdin.write(pixels)) await Promise.race([once(ffmpeg.stdin, "drain"), finished]);
      }
      ffmpeg.stdin.end();
    })();
    await Promise.all([finished, writing]);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  await drawRecording(process.argv[2] ?? recordingFile);
}
