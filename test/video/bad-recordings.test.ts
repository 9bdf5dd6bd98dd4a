import { execFileSync } from "node:child_process";
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import { Copies, probe, soundPeaks } from "../../src/video/index";
import { make, picture, plain, script, temporaryFolder, tone } from "./making";

const folder = temporaryFolder();
const place = path.join(folder, "copies");
const cacheDir = path.join(folder, "tables");
const copies = new Copies({ folder: place, cacheDir });

/** All that Boutline says of a file when asked to probe it, copy it and hear it. */
async function answers(file: string) {
  return {
    probe: await probe(file, { cacheDir }),
    copy: await copies.make(file, "whole"),
    peaks: await soundPeaks(file, { cacheDir }),
  };
}

function rules({ probe, copy, peaks }: Awaited<ReturnType<typeof answers>>): string[] {
  return [probe, copy, peaks].map((result) => (result.ok ? "none" : result.problem.rule));
}

/** Names of what is in the folder of copies and half-made. */
function halfMade(): string[] {
  return existsSync(place) ? readdirSync(place).filter((name) => !name.endsWith(".mp4")) : [];
}

const recording = make(folder, "recording.mp4", ...picture("25", 2), ...tone(2), ...plain, "-c:a", "aac");

it.each([
  ["zero-length", Buffer.alloc(0)],
  ["a text", Buffer.from("Vessa Tarn against Kel Odrey, 15 to 12\n")],
  ["cut short before its index", readFileSync(recording).subarray(0, 5000)],
  ["noise", Buffer.from(Array.from({ length: 20_000 }, (_, index) => (index * index * 31 + 7) % 256))],
])("A file called .mp4 that is %s is refused everywhere, with a sentence", async (name, bytes) => {
  const file = path.join(folder, `${name}.mp4`);
  writeFileSync(file, bytes);
  const told = await answers(file);
  expect(rules(told)).toEqual(["recording-unreadable", "recording-unreadable", "recording-unreadable"]);
  if (!told.copy.ok) expect(told.copy.problem.message).toMatch(/^\/.* can't be read as a recording: .+\.$/);
  expect(halfMade()).toEqual([]);
});

it("A recording without a picture is refused, and says so", async () => {
  const file = make(folder, "sound.mp4", ...tone(1));
  const told = await answers(file);
  expect(rules(told)).toEqual(Array.from({ length: 3 }, () => "recording-without-picture"));
});

it("Nothing at all, a folder and a pipe are refused without waiting for anybody", async () => {
  const pipe = path.join(folder, "pipe.mp4");
  execFileSync("mkfifo", [pipe]);
  for (const file of [path.join(folder, "nowhere.mp4"), folder, pipe, "/dev/zero"])
    expect(rules(await answers(file))).toEqual(Array.from({ length: 3 }, () => "recording-missing"));
});

it("A transport stream cut off in the middle of a packet has its copy, as far as it goes", async () => {
  const whole = make(folder, "whole.ts", ...picture("25", 2), ...plain);
  const file = path.join(folder, "cut-off.ts");
  const bytes = readFileSync(whole);
  writeFileSync(file, bytes.subarray(0, Math.floor(bytes.length * 0.7) + 77));
  const { probe, copy } = await answers(file);
  if (!probe.ok || !copy.ok) throw new Error("It was refused.");
  expect(probe.value.frames).toBeLessThan(50);
  expect(probe.value.frames - copy.value.index.times.length).toBe(copy.value.missing);
  expect(copy.value.missing).toBeLessThanOrEqual(1);
});

it("A recording with a hole of noise in it has a copy of what can be decoded, or says why not", async () => {
  const file = make(folder, "holed.ts", ...picture("25", 2), ...plain);
  const bytes = readFileSync(file);
  bytes.fill(0xa5, Math.floor(bytes.length / 2), Math.floor(bytes.length / 2) + 800);
  writeFileSync(file, bytes);
  const { probe, copy } = await answers(file);
  if (!probe.ok) throw new Error(probe.problem.message);
  if (copy.ok) expect(copy.value.index.times.length + copy.value.missing).toBe(probe.value.frames);
  else expect(copy.problem.rule).toBe("copy-differs");
  expect(halfMade()).toEqual([]);
});

describe("A list that names another file is never followed", () => {
  const secret = "SECRET-7f3a";
  // Bytes that would be seen, were they taken over: as a stream of their own, and as plain text.
  const hidden = make(
    folder,
    "hidden.ts",
    ...picture("25", 1),
    ...tone(1),
    ...plain,
    "-metadata",
    `service_name=${secret}`,
  );
  const text = path.join(folder, "secret.txt");
  writeFileSync(text, `${secret}\n`);
  const playlist = (target: string) =>
    `#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\n${target}\n#EXT-X-ENDLIST\n`;

  it.each([
    ["a playlist", playlist(hidden)],
    ["a playlist of the secret itself", playlist(text)],
    ["a playlist by address", playlist(`file://${hidden}`)],
    ["a playlist of a range", playlist(`subfile,,start,0,end,100,,:${hidden}`)],
    ["a list to be joined", `ffconcat version 1.0\nfile '${hidden}'\n`],
    ["a list of pictures", `#EXTM3U\n#EXT-X-MAP:URI="${text}"\n#EXTINF:1,\n${text}\n`],
    [
      "a description of streams",
      `v=0\nc=IN IP4 127.0.0.1\nm=video 5004 RTP/AVP 96\na=rtpmap:96 H264/90000\n`,
    ],
    [
      "a manifest",
      `<?xml version="1.0"?><MPD xmlns="urn:mpeg:dash:schema:mpd:2011" type="static"><Period><AdaptationSet mimeType="video/mp4"><Representation id="1" bandwidth="1"><BaseURL>${hidden}</BaseURL></Representation></AdaptationSet></Period></MPD>`,
    ],
  ])("whether it is %s", async (name, content) => {
    for (const ending of name === "a playlist" ? ["mp4", "ts", "avi"] : ["mp4"]) {
      const file = path.join(folder, `${name}.${ending}`);
      writeFileSync(file, content);
      const told = await answers(file);
      expect(rules(told)).toEqual(Array.from({ length: 3 }, () => "recording-unreadable"));
      expect(JSON.stringify(told)).not.toContain(secret);
    }
  });

  it("and nothing of it is in any copy or table", () => {
    expect(readFileSync(hidden, "latin1")).toContain(secret);
    for (const where of [place, cacheDir].filter((where) => existsSync(where)))
      for (const name of readdirSync(where))
        expect(readFileSync(path.join(where, name), "latin1")).not.toContain(secret);
  });
});

it.each([
  "-begins-with-a-dash.mp4",
  "with space, per%20cent & #.mp4",
  "with:colon.mp4",
  "http:address.mp4",
  'quote\'d "twice" $HOME `x`.mp4',
  "%03d.mp4",
  "naïve 試合 бой.mp4",
  "[1:v]; {a}.mp4",
])("A recording named %s is probed, copied and heard like any other", async (name) => {
  mkdirSync(path.join(folder, "named"), { recursive: true });
  const file = path.join(folder, "named", name);
  writeFileSync(file, readFileSync(recording));
  expect(rules(await answers(file))).toEqual(["none", "none", "none"]);
});

it("A copy goes into a folder of any such name", async () => {
  const strange = new Copies({ folder: path.join(folder, "-odd: %d #1 試"), cacheDir });
  expect(await strange.make(recording, "whole")).toMatchObject({ ok: true });
});

it("A recording behind a link is the recording", async () => {
  const link = path.join(folder, "link.mp4");
  symlinkSync(recording, link);
  expect(rules(await answers(link))).toEqual(["none", "none", "none"]);
});

describe("While its copy is made", () => {
  /** ffmpeg that does something to the recording before it goes on. */
  const meddling = (name: string, act: string) =>
    script(
      folder,
      name,
      `case "$*" in -version) printf 'ffmpeg version 5.1\\nlibavformat    59. 27.100 / 59. 27.100\\n';; *) ${act}; exec ffmpeg "$@";; esac`,
    );

  it("a recording that grows has no copy yet", async () => {
    const file = path.join(folder, "growing.mp4");
    writeFileSync(file, readFileSync(recording));
    appendFileSync(file, "\0\0\0\u0008free");
    const ffmpegPath = meddling("growing", `printf '\\0\\0\\0\\010free' >> '${file}'`);
    const own = new Copies({ folder: place, cacheDir, ffmpegPath });
    expect(await own.make(file, "whole")).toMatchObject({ problem: { rule: "recording-changed" } });
    expect(halfMade()).toEqual([]);
  });

  it("a recording that vanishes is said to be missing", async () => {
    const file = path.join(folder, "vanishing.mp4");
    writeFileSync(file, Buffer.concat([readFileSync(recording), Buffer.from("\0\0\0\u0008skip")]));
    const own = new Copies({ folder: place, cacheDir, ffmpegPath: meddling("vanishing", `rm '${file}'`) });
    expect(await own.make(file, "whole")).toMatchObject({ problem: { rule: "recording-missing" } });
    expect(halfMade()).toEqual([]);
  });
});

describe("On a full disk", () => {
  /** A disk of 100 kB, where this user may make one; else undefined. */
  function smallDisk(): string | undefined {
    const small = path.join(folder, "small");
    mkdirSync(small);
    try {
      execFileSync("mount", ["-t", "tmpfs", "-o", "size=100k", "tmpfs", small], { stdio: "ignore" });
      return small;
    } catch {
      return undefined;
    }
  }

  it("a copy is said to have no room, and nothing half-made is left", async (context) => {
    const small = smallDisk();
    if (small === undefined) return context.skip("No small disk may be mounted here.");
    try {
      const own = new Copies({ folder: small, cacheDir });
      const noisy = make(
        folder,
        "noisy.mp4",
        ...picture("25", 2),
        "-vf",
        "scale=640:360,noise=alls=80:allf=t",
        ...plain,
      );
      const ended = await own.make(noisy, "whole");
      expect(ended).toMatchObject({ problem: { rule: "disk-full" } });
      if (!ended.ok) expect(ended.problem.message).toContain("Make room there");
      expect(readdirSync(small)).toEqual([]);
    } finally {
      execFileSync("umount", [small]);
    }
  });

  it("so it is where ffmpeg may write no more than so much", async () => {
    const limited = script(folder, "limited", `trap '' XFSZ; ulimit -f 20; exec ffmpeg "$@"`);
    const own = new Copies({ folder: place, cacheDir, ffmpegPath: limited });
    const noisy = make(
      folder,
      "noisier.mp4",
      ...picture("25", 2),
      "-vf",
      "scale=640:360,noise=alls=90:allf=t",
      ...plain,
    );
    expect(await own.make(noisy, "whole")).toMatchObject({ problem: { rule: "disk-full" } });
    expect(halfMade()).toEqual([]);
  });
});

it("Nothing half-made lies beside the recordings", () => {
  expect(readdirSync(folder).filter((name) => name.endsWith(".part"))).toEqual([]);
});
