// How fast is a recording gone through in the real viewer: a long-GOP original against its viewing copy, from memory and
// over the loopback server, step by step, and with a recording of four gigabytes.
import { execFileSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  writeFileSync,
} from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { openEditor } from "../browser/harness.mjs";
import { shown } from "../browser/samples.mjs";
import { numberedPicture } from "../video/samples.mjs";

/** Seconds of the part that the long recordings repeat. */
const part = 60;
const seeks = 30;
const stepsOfEach = 100;
/** Milliseconds. */
const resourcePatience = 120_000;

/**
 * @param {object} options
 * @param {(what: string, measured: string, limit: string, met: boolean) => void} options.row
 * @param {string} options.folder where recordings are kept from run to run
 * @param {string} options.clockPackage the packaged extension that measures beside ours
 */
export async function seeking({ row, folder, clockPackage }) {
  const films = recordings(path.join(folder, "films"));
  const clockFile = path.join(folder, "clock-seeking.jsonl");
  writeFileSync(clockFile, "");
  const opened = await openEditor({
    extensions: [clockPackage],
    env: { BOUTLINE_CLOCK: clockFile, BOUTLINE_CLOCK_RECORDING: films.original },
    settings: { "boutline.viewingCopy.automatic": false, "boutline.openText": false },
    viewport: { width: 1400, height: 900 },
  });
  const memory = async () => {
    const before = readFileSync(clockFile, "utf8").length;
    await opened.command("Clock: note the memory of the extension host");
    while (readFileSync(clockFile, "utf8").length === before) await pause(50);
    return JSON.parse(readFileSync(clockFile, "utf8").trim().split("\n").at(-1)).bytes;
  };
  try {
    const view = await openBout(opened, films);
    await seekTimes(row, view, films);
    await steps(row, view, films);
    await held(row, view, opened.page);
    await opening(row, view, films, memory);
    await resource(row, opened, films);
  } finally {
    await opened.close();
  }
}

/** Made once, and kept for the next run. */
function recordings(folder) {
  mkdirSync(folder, { recursive: true });
  const made = (name, options) => {
    const file = path.join(folder, name);
    if (existsSync(file)) return file;
    const unfinished = path.join(folder, `part-${name}`);
    execFileSync("ffmpeg", ["-nostdin", "-v", "error", "-y", ...options(), unfinished]);
    renameSync(unfinished, file);
    return file;
  };
  const looped = (name, file, times) =>
    made(name, () => ["-stream_loop", String(times - 1), "-i", file, "-c", "copy"]);
  const h264 = ["-c:v", "libx264", "-pix_fmt", "yuv420p"];
  const short = made("part.mp4", () => [
    ...["-f", "lavfi", "-i", `testsrc2=size=1280x720:rate=50:duration=${part},noise=alls=6:allf=t`],
    ...["-f", "lavfi", "-i", `sine=frequency=440:duration=${part}`],
    ...[...h264, "-preset", "veryfast", "-b:v", "7M", "-maxrate", "9M", "-bufsize", "9M"],
    ...["-g", "250", "-bf", "3", "-c:a", "libmp3lame"],
  ]);
  // The viewing copy's own recipe (src/video/recipe.ts); another one makes files of another name.
  const gop = 6;
  const name = `fastdecode-${gop}`;
  const copied = made(`copied-${name}-part.mp4`, () => [
    ...["-i", short, "-c:v", "libx264", "-preset", "veryfast", "-tune", "fastdecode", "-crf", "22"],
    ...["-pix_fmt", "yuv420p", "-vf", "scale=960:540:flags=bicubic"],
    ...["-g", String(gop), "-keyint_min", String(gop), "-sc_threshold", "0", "-bf", "0"],
    ...["-c:a", "libmp3lame"],
  ]);
  const bytes = (file) => statSync(file).size;
  const stepped = (name, rate, ...more) =>
    made(name, () => [
      ...numberedPicture(rate, 8),
      ...[...h264, "-preset", "ultrafast", "-g", "12", "-bf", "0", ...more],
    ]);
  const vary = "settb=1/90000,setpts='(N/30+0.004*mod(N*7\\,4)+0.3*gte(N\\,20))/TB'";
  return {
    original: looped("original.mp4", short, 30),
    copy: looped(`copy-${name}.mp4`, copied, Math.min(30, Math.floor(0.98e9 / bytes(copied)))),
    longCopy: looped(`long-copy-${name}.mp4`, copied, Math.ceil(1.1e9 / bytes(copied))),
    small: looped("small.mp4", short, Math.max(1, Math.round(40e6 / bytes(short)))),
    huge: looped("huge.mp4", short, Math.ceil(4e9 / bytes(short))),
    stepped: [
      ["25", stepped("step-25.mp4", "25")],
      ["29.97", stepped("step-2997.mp4", "30000/1001")],
      ["50", stepped("step-50.mp4", "50")],
      ["59.94", stepped("step-5994.mp4", "60000/1001")],
      [
        "a varying rate",
        stepped(
          "step-variable.mp4",
          "30",
          ...[
            "-vf",
            vary,
            "-fps_mode",
            "vfr",
            "-enc_time_base",
            "1/90000",
            "-video_track_timescale",
            "90000",
          ],
        ),
      ],
    ],
  };
}

/** One bout that names them all, linked into its folder; `choose` shows one. */
async function openBout(opened, films) {
  const files = [films.original, films.copy, films.longCopy, films.small, films.huge];
  files.push(...films.stepped.map(([, file]) => file));
  for (const file of files) execFileSync("ln", [file, path.join(opened.folder, path.basename(file))]);
  const demo = readFileSync(path.join(opened.folder, "demo.bout.json"), "utf8");
  const named = files.map((file) => `{ "file": "${path.basename(file)}" }`).join(", ");
  const bout = path.join(opened.folder, "seeking.bout.json");
  writeFileSync(bout, demo.replace('{ "file": "demo.mp4" }', named));
  await opened.workbench.openFiles([bout]);
  const viewer = opened.viewer();
  const body = viewer.locator("body");
  await viewer.locator("video").waitFor({ state: "attached", timeout: 60_000 });
  const choose = async (file, { memory = false } = {}) => {
    await viewer.getByLabel("Recording", { exact: true }).selectOption(String(files.indexOf(file)));
    const deadline = Date.now() + 240_000;
    for (;;) {
      const now = await shown(viewer);
      if (now.address !== undefined && now.frame !== null && (!memory || now.address?.startsWith("blob:")))
        return now;
      if (Date.now() > deadline)
        throw new Error(`${path.basename(file)} did not come: ${JSON.stringify(now)}`);
      await pause(200);
    }
  };
  return { viewer, body, choose, files };
}

/** Milliseconds from a time typed in to its frame on screen, for many times. A frame is on screen once the video element
 * has handed it on, or the page has drawn it and handed that on; and the page has to name it. */
function timesToFrames(body, file, seconds) {
  const wanted = seconds.map((second) => ({ second, frame: frameAt(file, second) }));
  return body.evaluate(async (body, wanted) => {
    const field = body.querySelector("input.time");
    const named = () => Number(body.querySelector(".transport .frame").textContent.replace(/\D/g, ""));
    const taken = [];
    for (const { second, frame } of wanted) {
      const video = body.querySelector(".film video:not(.coming)");
      const drawn = body.querySelector(".film .drawn-frame");
      const came = new Promise((resolve) => {
        let inVideo = false;
        const look = (now, { mediaTime }) => {
          inVideo = Math.abs(mediaTime - second) < 0.03;
          if (!inVideo) video.requestVideoFrameCallback(look);
        };
        video.requestVideoFrameCallback(look);
        const { port1, port2 } = new MessageChannel();
        const each = () => {
          port2.postMessage("");
          waiting = requestAnimationFrame(each);
        };
        let waiting = requestAnimationFrame(each);
        // A message sent before the page is laid out comes as soon as that has been handed on.
        port1.onmessage = () => {
          if (named() !== frame || !(inVideo || !drawn.hidden)) return;
          cancelAnimationFrame(waiting);
          resolve(performance.now());
        };
      });
      const start = performance.now();
      field.value = String(second);
      field.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter" }));
      const end = await Promise.race([came, new Promise((resolve) => setTimeout(resolve, 15_000, Infinity))]);
      taken.push(end - start);
      await new Promise((resolve) => setTimeout(resolve, 150));
    }
    return taken;
  }, wanted);
}

/** The same with nothing but a video element on top of the page: what is left is the browser's own work. */
function bareTimes(body, seconds) {
  return body.evaluate(async (body, seconds) => {
    const shown = body.querySelector(".film video:not(.coming)");
    const box = shown.getBoundingClientRect();
    const video = document.createElement("video");
    video.muted = true;
    video.preload = "auto";
    video.src = shown.currentSrc;
    Object.assign(video.style, {
      position: "fixed",
      left: `${box.left}px`,
      top: `${box.top}px`,
      zIndex: "9",
    });
    video.width = box.width;
    video.height = box.height;
    body.append(video);
    await new Promise((resolve) => video.addEventListener("canplay", resolve, { once: true }));
    const taken = [];
    for (const second of seconds) {
      const came = new Promise((resolve) => {
        const look = (now, { mediaTime }) => {
          if (Math.abs(mediaTime - second) < 0.03) resolve(performance.now());
          else video.requestVideoFrameCallback(look);
        };
        video.requestVideoFrameCallback(look);
      });
      const start = performance.now();
      video.currentTime = second + 0.01;
      const end = await Promise.race([came, new Promise((resolve) => setTimeout(resolve, 15_000, Infinity))]);
      taken.push(end - start);
      await new Promise((resolve) => setTimeout(resolve, 150));
    }
    video.remove();
    return taken;
  }, seconds);
}

/** The sound of a recording is worked out once, in the background: until then ffmpeg has a core of its own. */
async function quiet() {
  const name = (process) => {
    try {
      return readFileSync(`/proc/${process}/comm`, "utf8").trim();
    } catch {
      return "";
    }
  };
  const isBusy = () => readdirSync("/proc").some((one) => /^\d+$/.test(one) && name(one) === "ffmpeg");
  // It may only be about to start.
  for (let still = 0; still < 10; still += 1) {
    await pause(200);
    if (isBusy()) still = 0;
  }
}

async function seekTimes(row, { body, choose }, films) {
  const random = randomFrom(7);
  const wanted = (file) =>
    Array.from({ length: seeks }, () => Math.round(random() * (lengthOf(file) - 2) * 50) / 50 + 1);
  await choose(films.original);
  await quiet();
  const original = await timesToFrames(body, films.original, wanted(films.original));
  await choose(films.copy, { memory: true });
  await quiet();
  const copy = await timesToFrames(body, films.copy, wanted(films.copy));
  const bare = await bareTimes(body, wanted(films.copy));
  await choose(films.longCopy);
  await quiet();
  const long = await timesToFrames(body, films.longCopy, wanted(films.longCopy));
  const ratio = quantile(copy, 0.5) / quantile(original, 0.5);
  const told = (taken) =>
    `median ${quantile(taken, 0.5).toFixed(0)} ms, p95 ${quantile(taken, 0.95).toFixed(0)} ms`;
  row(
    `seek in 720p50 with 250 frames between key frames, ${(lengthOf(films.original) / 60).toFixed(0)} minutes: viewing copy against original`,
    `${ratio.toFixed(3)} of the original's median (original: ${told(original)})`,
    "at most 0.1",
    ratio <= 0.1,
  );
  row(
    `seek to frame shown, viewing copy of ${gigabytes(films.copy)} GB from memory`,
    `${told(copy)} (a bare video element beside it: ${told(bare)})`,
    "p95 at most 50 ms",
    quantile(copy, 0.95) <= 50,
  );
  row(
    `seek to frame shown, viewing copy of ${gigabytes(films.longCopy)} GB over loopback`,
    told(long),
    "p95 at most 120 ms",
    quantile(long, 0.95) <= 120,
  );
}

async function steps(row, { viewer, body, choose }, films) {
  let wrong = 0;
  let all = 0;
  const random = randomFrom(11);
  for (const [rate, file] of films.stepped) {
    await choose(file);
    let at = 0;
    const wrongBefore = wrong;
    await typed(body, "0");
    await settled(viewer, 0);
    for (let step = 0; step < stepsOfEach; step += 1) {
      const back = at > 5 && random() < 0.35;
      at += back ? -1 : 1;
      await pressed(body, back ? "◂ frame" : "frame ▸");
      const { number } = await settled(viewer, at);
      all += 1;
      if (number !== at) wrong += 1;
    }
    if (wrong > wrongBefore) console.log(`        ${wrong - wrongBefore} wrong at ${rate} frames a second`);
  }
  row(
    "frame steps at 25, 29.97, 50, 59.94 frames a second and a varying rate, frame number read from the picture",
    `${wrong} of ${all} wrong`,
    "0 of 500",
    wrong === 0 && all === 500,
  );
}

async function settled(viewer, frame) {
  let now;
  for (let left = 100; left > 0; left -= 1) {
    now = await shown(viewer);
    if (now.frame === frame) return now;
    await pause(20);
  }
  return now;
}

const typed = (body, time) =>
  body.evaluate((body, time) => {
    const field = body.querySelector("input.time");
    field.value = time;
    field.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter" }));
  }, time);

const pressed = (body, words) =>
  body.evaluate((body, words) => {
    [...body.querySelectorAll(".transport button")].find((one) => one.textContent.includes(words)).click();
  }, words);

/** A key held down repeats about thirty times a second. */
async function held(row, { viewer, body, choose, files }, page) {
  await choose(files[1], { memory: true });
  await typed(body, "100");
  await pause(1000);
  await viewer.locator(".stage").click({ position: { x: 60, y: 60 } });
  await body.evaluate((body) => {
    const label = body.querySelector(".transport .frame");
    window.framesSeen = [];
    const look = () => {
      const frame = Number(label.textContent.replace(/\D/g, ""));
      if (frame !== window.framesSeen.at(-1)?.[1]) window.framesSeen.push([performance.now(), frame]);
      requestAnimationFrame(look);
    };
    look();
  });
  const start = Date.now();
  for (let press = 0; press * 33 < 4000; press += 1) {
    await page.keyboard.down("ArrowRight");
    await pause(Math.max(0, start + (press + 1) * 33 - Date.now()));
  }
  await page.keyboard.up("ArrowRight");
  await pause(500);
  const seen = await body.evaluate(() => window.framesSeen);
  const steps = seen.length - 1;
  const rate = steps / ((seen.at(-1)[0] - seen[0][0]) / 1000);
  row("a held key on the viewing copy", `${rate.toFixed(1)} steps a second`, "at least 20", rate >= 20);
}

async function opening(row, { body, choose }, films, memory) {
  const first = async (file) => {
    await choose(films.stepped[0][1]);
    await pause(500);
    const name = path.basename(file);
    return body.evaluate(async (body, name) => {
      const list = body.querySelector("select[aria-label=Recording]");
      const start = performance.now();
      list.value = [...list.options].find((one) => one.textContent === name).value;
      const before = body.querySelector(".film video");
      list.dispatchEvent(new Event("change"));
      for (;;) {
        const video = body.querySelector(".film video");
        if (video !== null && video !== before && video.readyState >= 2) return performance.now() - start;
        await new Promise((resolve) => setTimeout(resolve, 2));
      }
    }, name);
  };
  const small = [];
  const huge = [];
  await first(films.small);
  await first(films.huge);
  for (let round = 0; round < 5; round += 1) {
    small.push(await first(films.small));
    huge.push(await first(films.huge));
  }
  const ratio = quantile(huge, 0.5) / quantile(small, 0.5);
  row(
    `first frame of a recording of ${gigabytes(films.huge)} GB against one of ${gigabytes(films.small)} GB`,
    `${ratio.toFixed(2)} times (${quantile(huge, 0.5).toFixed(0)} ms against ${quantile(small, 0.5).toFixed(0)} ms)`,
    "at most 1.5 times",
    ratio <= 1.5,
  );
  const before = await memory();
  await choose(films.huge);
  await timesToFrames(
    body,
    films.huge,
    Array.from({ length: 10 }, (_, index) => 100 + index * 200),
  );
  const grown = (await memory()) - before;
  row(
    `memory of the extension host while ${gigabytes(films.huge)} GB are open and gone through`,
    `${(grown / 1e6).toFixed(0)} MB more`,
    "less than 50 MB",
    grown < 50e6,
  );
}

/** For the record: what a page gets by VS Code's own address for files of an extension's page. */
async function resource(row, opened, films) {
  await opened.command("Clock: show the recording by its resource address");
  const body = opened.viewer().locator("body");
  await body.locator("video").waitFor({ state: "attached" });
  const measuring = body.evaluate(async (body) => {
    const video = body.querySelector("video");
    const wait = (name, milliseconds) =>
      new Promise((resolve) => {
        video.addEventListener(name, () => resolve(performance.now()), { once: true });
        setTimeout(resolve, milliseconds, Infinity);
      });
    const start = performance.now();
    if (video.readyState < 1) await wait("loadedmetadata", 30_000);
    const metadata = performance.now() - start;
    const taken = [];
    for (const second of [600, 1200, 300]) {
      const began = performance.now();
      video.currentTime = second;
      taken.push((await wait("seeked", 15_000)) - began);
    }
    return [metadata, taken];
  });
  // The page may be kept so busy that even its timers don't come.
  const taken = await Promise.race([measuring, pause(resourcePatience)]);
  measuring.catch(() => undefined);
  const told = (taken?.[1] ?? []).map((one) =>
    one === Infinity ? "none within 15 s" : `${one.toFixed(0)} ms`,
  );
  row(
    `for the record: the original of ${gigabytes(films.original)} GB by the webview resource address`,
    taken === undefined
      ? `nothing of it within ${resourcePatience / 1000} s`
      : `metadata after ${taken[0].toFixed(0)} ms, seeks: ${told.join(", ")}`,
    "nothing",
    true,
  );
}

const lengths = new Map();
/** Seconds. */
function lengthOf(file) {
  const known = lengths.get(file);
  if (known !== undefined) return known;
  const found = Number(
    execFileSync("ffprobe", ["-v", "error", "-show_entries", "format=duration", "-of", "csv=p=0", file]),
  );
  lengths.set(file, found);
  return found;
}

const tables = new Map();
/** The number of the frame nearest to a time in seconds after the first, by ffprobe's list. */
function frameAt(file, second) {
  let times = tables.get(file);
  if (times === undefined) {
    const wanted = ["-v", "error", "-select_streams", "v:0", "-show_entries", "packet=pts_time"];
    const form = ["-of", "default=nk=1:nw=1", file];
    const listed = execFileSync("ffprobe", [...wanted, ...form], { encoding: "utf8", maxBuffer: 1e8 });
    const sorted = Float64Array.from(listed.trim().split("\n"), Number).sort();
    times = sorted.map((time) => time - sorted[0]);
    tables.set(file, times);
  }
  const after = times.findIndex((time) => time >= second);
  if (after <= 0) return after === 0 ? 0 : times.length - 1;
  return second - times[after - 1] < times[after] - second ? after - 1 : after;
}

const gigabytes = (file) => (statSync(file).size / 1e9).toFixed(2);

function quantile(values, share) {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)];
}

/** The same numbers in each run (Park and Miller's minimal standard generator). */
function randomFrom(seed) {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
