import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it, vi } from "vitest";
import { findProgram, frameTable } from "../../src/video/index";
import { installAdvice } from "../../src/video/locate";
import { make, picture, plain, sayVersion, script, temporaryFolder } from "./making";

const folder = temporaryFolder();

async function problemWith(ffprobe: string): Promise<{ rule: string; message: string }> {
  const result = await findProgram("ffprobe", ffprobe);
  if (result.ok) throw new Error(`${ffprobe} was taken.`);
  return result.problem;
}

describe("ffprobe and ffmpeg", () => {
  it.each(["ffprobe", "ffmpeg"] as const)("%s is found on PATH and says a version from 5", async (name) => {
    const found = await findProgram(name);
    if (!found.ok) throw new Error(found.problem.message);
    expect(path.isAbsolute(found.value.path)).toBe(true);
    expect(found.value.series).toBeGreaterThanOrEqual(5);
    expect(Number.parseInt(found.value.version)).toBe(found.value.series);
  });

  it.each([
    ["5.1.9-0+deb12u1", 59, 5],
    ["6.1.1", 60, 6],
    ["7.0", 61, 7],
    ["N-118000-gabcdef0123", 61, 7],
    ["8.0", 62, 8],
  ])("version %s is taken, told by the library in it", async (version, library, series) => {
    const ffprobe = script(folder, `ffprobe-${version}`, sayVersion(version, library));
    expect(await findProgram("ffprobe", ffprobe)).toEqual({
      ok: true,
      value: { path: ffprobe, version, series },
    });
  });

  it("version 4 is refused, with the command that brings a newer one", async () => {
    const { rule, message } = await problemWith(script(folder, "old", sayVersion("4.4.2", 58)));
    expect(rule).toBe("program-old");
    expect(message).toContain("4.4.2");
    expect(message).toContain(installAdvice());
  });

  it("a program that is something else, or fails, is refused", async () => {
    expect((await problemWith(script(folder, "else", "echo hello"))).rule).toBe("program-unusable");
    const broken = await problemWith(script(folder, "broken", "echo no library >&2; exit 127"));
    expect(broken).toMatchObject({ rule: "program-unusable" });
    expect(broken.message).toContain("no library");
  });

  it("where the settings name a place, no other is tried", async () => {
    const { rule, message } = await problemWith(path.join(folder, "nowhere"));
    expect(rule).toBe("program-missing");
    expect(message).toContain(path.join(folder, "nowhere"));
    expect((await problemWith(folder)).rule).toBe("program-missing");
  });

  it("a relative place is never looked at: it could come with a workspace", async () => {
    const relative = path.relative(process.cwd(), script(folder, "near", sayVersion("6.1", 60)));
    expect((await problemWith(relative)).rule).toBe("program-missing");
    vi.stubEnv(
      "PATH",
      path.dirname(path.relative(process.cwd(), script(folder, "ffprobe", sayVersion("6.1", 60)))),
    );
    try {
      expect((await findProgram("ffprobe")).ok).toBe(false);
    } finally {
      vi.unstubAllEnvs();
    }
  });

  it.each([
    ["win32", "winget install --id Gyan.FFmpeg"],
    ["darwin", "brew install ffmpeg"],
    ["linux", "sudo "],
  ] as const)("on %s the advice is a command of that system", (platform, command) => {
    expect(installAdvice(platform)).toContain(command);
  });
});

describe("Reading a recording can be cancelled", () => {
  const source = make(folder, "source.mp4", ...picture("25", 1), ...plain);

  /** A program in ffprobe's place that stays in the given step until it is ended, and says under which process id. */
  function lingering(name: string, step: string, before = "") {
    const note = path.join(folder, `${name}.pid`);
    const text = `case "$*" in
      -version) ${sayVersion("6.1", 60)};;
      *${step}*) ${before} echo $$ > '${note}.part'; mv '${note}.part' '${note}'; exec sleep 600;;
      *) exec ffprobe "$@";;
    esac`;
    return { ffprobePath: script(folder, name, text), note };
  }

  function runs(id: number): boolean {
    try {
      process.kill(id, 0);
      return true;
    } catch {
      return false;
    }
  }

  it.each([
    ["while it is listed", "packet=", ""],
    ["even if the program does not listen", "packet=", "trap '' TERM;"],
  ])(
    "%s, and its process ends",
    async (name, step, before) => {
      const { ffprobePath, note } = lingering(name.replaceAll(" ", "-"), step, before);
      const stop = new AbortController();
      const cacheDir = path.join(folder, "cancelled");
      const result = frameTable(source, { cacheDir, ffprobePath, signal: stop.signal });
      await vi.waitFor(() => expect(existsSync(note)).toBe(true), 20_000);
      const id = Number(readFileSync(note, "utf8"));
      expect(runs(id)).toBe(true);
      stop.abort();
      expect(await result).toMatchObject({ ok: false, problem: { rule: "cancelled" } });
      await vi.waitFor(() => expect(runs(id)).toBe(false), 20_000);
      expect(existsSync(cacheDir)).toBe(false);
    },
    60_000,
  );

  it("before it has begun, and then nothing is started", async () => {
    const { ffprobePath, note } = lingering("never", "");
    const options = { cacheDir: path.join(folder, "never-kept"), ffprobePath, signal: AbortSignal.abort() };
    expect(await frameTable(source, options)).toMatchObject({ ok: false, problem: { rule: "cancelled" } });
    expect(existsSync(note)).toBe(false);
  });
});
