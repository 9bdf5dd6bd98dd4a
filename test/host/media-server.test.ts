import { execFileSync } from "node:child_process";
import {
  appendFileSync,
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import http from "node:http";
import path from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { MediaServer, type MediaServerOptions } from "../../src/host/media-server";
import { make, picture, plain, sayVersion, script, temporaryFolder } from "../video/making";
import { ask } from "./media-client";

const folder = temporaryFolder();
/** Not a recording, but the server only passes bytes on. */
const bytes = Buffer.from(Array.from({ length: 1000 }, (_, index) => index % 251));
const page = "vscode-webview://0a1b2c3d4e";

const servers: MediaServer[] = [];
afterEach(() => {
  for (const server of servers.splice(0)) server.dispose();
});

function newServer(options: Partial<MediaServerOptions> = {}): MediaServer {
  const server = new MediaServer({
    cacheDir: path.join(folder, "cache"),
    trusted: () => false,
    asExternal: (address) => Promise.resolve(address),
    ...options,
  });
  servers.push(server);
  return server;
}

function recording(name: string, content: Buffer | string = bytes): string {
  const file = path.join(folder, name);
  writeFileSync(file, content);
  return file;
}

/** The addresses of a file that must be servable. */
async function served(server: MediaServer, file: string, viewer = "viewer") {
  const { address, frames, problem } = await server.serve(file, viewer);
  if (address === null || frames === null) throw new Error(problem);
  return { address, frames };
}

describe("A recording is served", () => {
  it("whole, with its length, its type and the word that parts may be asked for", async () => {
    const { address } = await served(newServer(), recording("whole.mp4"));
    const { status, headers, body } = await ask(address);
    expect(status).toBe(200);
    expect(headers).toMatchObject({
      "accept-ranges": "bytes",
      "content-length": "1000",
      "content-type": "video/mp4",
      "x-content-type-options": "nosniff",
      "cache-control": "no-store",
      "cross-origin-resource-policy": "cross-origin",
      vary: "Origin",
    });
    expect(body.equals(bytes)).toBe(true);
  });

  it.each([
    ["bytes=0-0", 0, 0],
    ["bytes=100-299", 100, 299],
    ["bytes=990-", 990, 999],
    ["bytes=-10", 990, 999],
    ["bytes=500-99999999999999999999", 500, 999],
  ])("in part, for %s", async (range, from, to) => {
    const { address } = await served(newServer(), recording("part.mp4"));
    const { status, headers, body } = await ask(address, { headers: { range } });
    expect(status).toBe(206);
    expect(headers).toMatchObject({
      "content-range": `bytes ${from}-${to}/1000`,
      "content-length": String(to - from + 1),
    });
    expect(body.equals(bytes.subarray(from, to + 1))).toBe(true);
  });

  it.each(["bytes=1000-", "bytes=1000-2000", "bytes=99999999999999999999-", "bytes=-0"])(
    "not at all, for %s, which lies outside",
    async (range) => {
      const { address } = await served(newServer(), recording("outside.mp4"));
      const { status, headers } = await ask(address, { headers: { range } });
      expect(status).toBe(416);
      expect(headers["content-range"]).toBe("bytes */1000");
    },
  );

  it.each(["bytes=5-2", "bytes=0-1,5-6", "frames=0-1", `bytes=${"0-1,".repeat(500)}7-8`])(
    "whole, for a range that is none: %s",
    async (range) => {
      const { address } = await served(newServer(), recording("odd.mp4"));
      expect(await ask(address, { headers: { range } })).toMatchObject({ status: 200, body: bytes });
    },
  );

  it("without its bytes to HEAD", async () => {
    const { address } = await served(newServer(), recording("head.mp4"));
    const whole = await ask(address, { method: "HEAD" });
    expect(whole).toMatchObject({ status: 200, headers: { "content-length": "1000" } });
    expect(whole.body.length).toBe(0);
    const part = await ask(address, { method: "HEAD", headers: { range: "bytes=0-9" } });
    expect(part).toMatchObject({ status: 206, headers: { "content-length": "10" } });
  });

  it("in part only while it is the one the part is of", async () => {
    const file = recording("same.mp4");
    const { address } = await served(newServer(), file);
    const { headers } = await ask(address);
    const continued = { range: "bytes=500-", "if-range": headers.etag ?? "" };
    expect((await ask(address, { headers: continued })).status).toBe(206);
    writeFileSync(file, Buffer.alloc(2000, 7));
    const { status, body } = await ask(address, { headers: continued });
    expect(status).toBe(200);
    expect(body.equals(Buffer.alloc(2000, 7))).toBe(true);
  });

  it("to fifty requests at once, each with its own part", async () => {
    const large = Buffer.from(Uint32Array.from({ length: 500_000 }, (_, index) => index).buffer);
    const { address } = await served(newServer(), recording("large.mp4", large));
    const parts = Array.from({ length: 50 }, async (_, index) => {
      const from = index * 39_999;
      const { status, body } = await ask(address, { headers: { range: `bytes=${from}-${from + 29_999}` } });
      return status === 206 && body.equals(large.subarray(from, from + 30_000));
    });
    expect(await Promise.all(parts)).toEqual(Array.from({ length: 50 }, () => true));
  });

  it("under one address to the same viewer, under another to another", async () => {
    const server = newServer();
    const file = recording("shared.mp4");
    const { address } = await served(server, file, "first");
    expect((await served(server, file, "first")).address).toBe(address);
    expect((await served(server, file, "second")).address).not.toBe(address);
    expect(new URL(address).pathname).toMatch(/^\/[0-9a-f]{32}$/);
  });
});

describe("Nothing else is served", () => {
  it.each([
    "/",
    "/etc/passwd",
    "/../../../../etc/passwd",
    "/..%2f..%2f..%2fetc%2fpasswd",
    "/TOKEN/../../../etc/passwd",
    "/TOKEN/..%2fother.mp4",
    "/TOKEN/",
    "/TOKEN//frames",
    "/TOKEN/frames/",
    "/TOKEN%00",
    "//TOKEN",
    "/%2e%2e/TOKEN",
    "http://127.0.0.1/TOKEN",
    "file:///etc/passwd",
    "*",
    `/${"0".repeat(32)}`,
    `/${"a".repeat(10_000)}`,
  ])("at %s", async (wanted) => {
    const file = recording("only.mp4");
    recording("other.mp4", "another");
    const { address } = await served(newServer(), file);
    const target = wanted.replace("TOKEN", new URL(address).pathname.slice(1));
    const { status, body } = await ask(address, { path: target });
    expect({ status, text: body.toString() }).toEqual({ status: 404, text: "Nothing here." });
  });

  it("under a token with one digit changed, or in capitals", async () => {
    const { address } = await served(newServer(), recording("token.mp4"));
    const token = new URL(address).pathname.slice(1);
    const other = (token.startsWith("0") ? "1" : "0") + token.slice(1);
    expect((await ask(address, { path: `/${other}` })).status).toBe(404);
    expect((await ask(address, { path: `/${token.toUpperCase()}x` })).status).toBe(404);
  });

  it.each(["POST", "PUT", "DELETE", "PATCH", "TRACE"])("to the method %s", async (method) => {
    const file = recording("method.mp4");
    const { address } = await served(newServer(), file);
    const { status, headers } = await ask(address, { method });
    expect({ status, allow: headers.allow }).toEqual({ status: 405, allow: "GET, HEAD, OPTIONS" });
    expect(readFileSync(file).equals(bytes)).toBe(true);
  });

  it("to a request that is no HTTP, and the server stays", async () => {
    const { address } = await served(newServer(), recording("garbage.mp4"));
    const { hostname, port } = new URL(address);
    const net = await import("node:net");
    await new Promise<void>((resolve) => {
      const socket = net.connect(Number(port), hostname, () => socket.write("\0\x01garbage\r\n\r\n"));
      socket
        .on("error", () => undefined)
        .on("close", () => resolve())
        .resume();
    });
    expect((await ask(address)).status).toBe(200);
  });
});

describe("Who may ask", () => {
  it.each([
    "evil.example",
    "evil.example:80",
    "127.0.0.1",
    "localhost",
    "127.0.0.1:1",
    "[::1]:PORT",
    "127.0.0.2:PORT",
  ])("nobody who names the host %s", async (host) => {
    const { address } = await served(newServer(), recording("host.mp4"));
    const answer = await ask(address, { headers: { host: host.replace("PORT", new URL(address).port) } });
    expect(answer.status).toBe(403);
    expect(answer.body.includes(bytes.subarray(0, 100))).toBe(false);
  });

  it("whoever names this machine, by number or by name", async () => {
    const { address } = await served(newServer(), recording("host.mp4"));
    const { port } = new URL(address);
    for (const host of [`127.0.0.1:${port}`, `localhost:${port}`, `LOCALHOST:${port}`])
      expect((await ask(address, { headers: { host } })).status).toBe(200);
  });

  it("whoever comes through the workbench's own way to this machine, from its page too", async () => {
    const server = newServer({
      asExternal: (inside) => {
        const { port, pathname } = new URL(inside);
        return Promise.resolve(`https://workbench.example/proxy/${port}${pathname}`);
      },
    });
    const { address } = await served(server, recording("proxied.mp4"));
    expect(await server.origin("viewer")).toBe("https://workbench.example");
    const [, port, token] =
      /^https:\/\/workbench\.example\/proxy\/(\d+)\/([0-9a-f]{32})$/.exec(address) ?? [];
    const inside = `http://127.0.0.1:${port}/${token}`;
    expect((await ask(inside, { headers: { host: "workbench.example" } })).status).toBe(200);
    const headers = { host: "workbench.example", origin: "https://workbench.example" };
    expect((await ask(inside, { headers })).headers["access-control-allow-origin"]).toBe(headers.origin);
    expect((await ask(inside, { headers: { host: "other.example" } })).status).toBe(403);
  });

  it.each([page, "https://0a1b2c.vscode-cdn.net"])(
    "the page of a view, at %s, which may read pixels",
    async (origin) => {
      const { address } = await served(newServer(), recording("origin.mp4"));
      const { status, headers } = await ask(address, { headers: { origin } });
      expect(status).toBe(200);
      expect(headers).toMatchObject({ "access-control-allow-origin": origin, vary: "Origin" });
      expect(headers["access-control-allow-credentials"]).toBeUndefined();
    },
  );

  it.each([
    "https://evil.example",
    "null",
    "http://localhost:3000",
    "https://vscode-cdn.net.evil.example",
    "https://evil.example/.vscode-cdn.net",
    "https://evil.example#.vscode-cdn.net",
    "http://a.vscode-cdn.net",
    "vscode-webview://a.evil.example",
    "vscode-webview://",
    "",
  ])("no other page: %s", async (origin) => {
    const { address, frames } = await served(newServer(), recording("origin.mp4"));
    for (const one of [address, frames]) {
      const answer = await ask(one, { headers: { origin } });
      expect(answer.status).toBe(403);
      expect(answer.headers["access-control-allow-origin"]).toBeUndefined();
    }
  });

  it("a page that asks beforehand whether it may name a range, on an address it knows", async () => {
    const { address } = await served(newServer(), recording("asked.mp4"));
    const headers = {
      origin: page,
      "access-control-request-method": "GET",
      "access-control-request-headers": "range",
    };
    expect(await ask(address, { method: "OPTIONS", headers })).toMatchObject({
      status: 204,
      headers: {
        "access-control-allow-origin": page,
        "access-control-allow-methods": "GET, HEAD",
        "access-control-allow-headers": "Range, If-Range",
      },
    });
    const unknown = { method: "OPTIONS", headers, path: `/${"0".repeat(32)}` };
    expect((await ask(address, unknown)).status).toBe(404);
  });
});

describe("What can't be played is told and not served", () => {
  it("a device", async () => {
    const { address, problem } = await newServer().serve("/dev/zero", "viewer");
    expect({ address, problem }).toEqual({
      address: null,
      problem: "zero is a device or a pipe, not a recording.",
    });
  });

  it.each([
    ["a folder", () => mkdirSync(path.join(folder, "folder.mp4")), "folder.mp4", "is a folder"],
    [
      "a named pipe, without waiting for it",
      () => execFileSync("mkfifo", [path.join(folder, "pipe.mp4")]),
      "pipe.mp4",
      "a pipe",
    ],
    [
      "a link, since only the file it leads to can be checked",
      () => symlinkSync("/dev/zero", path.join(folder, "zero.mp4")),
      "zero.mp4",
      "a link",
    ],
    ["a file that is not there", () => undefined, "missing.mp4", "is not there"],
    ["an empty file", () => recording("empty.mp4", ""), "empty.mp4", "is empty"],
    [
      "a playlist named .mp4",
      () => recording("list.mp4", "\ufeff#EXTM3U\nhttp://127.0.0.1/x\n"),
      "list.mp4",
      "list of other recordings",
    ],
  ])("%s", async (_, prepare, name, words) => {
    prepare();
    const result = await newServer().serve(path.join(folder, name), "viewer");
    expect(result).toMatchObject({ address: null, frames: null });
    expect(result.problem).toContain(words);
    expect(result.problem).toContain(name);
  });

  it("a path that is not a full one", async () => {
    expect((await newServer().serve("whole.mp4", "viewer")).address).toBeNull();
  });

  it("anything, where the workbench knows no way to this machine", async () => {
    const server = newServer({ asExternal: () => Promise.reject(new Error("no tunnel")) });
    const { address, problem } = await server.serve(recording("unreachable.mp4"), "viewer");
    expect(address).toBeNull();
    expect(problem).toContain("no tunnel");
  });
});

describe("A recording that changes while it is served", () => {
  /** Asks for a large recording, waits for its first bytes without taking more, and leaves the rest to the test. */
  async function halfRead(file: string, server = newServer(), viewer = "viewer") {
    const descriptor = openSync(file, "w");
    writeSync(descriptor, Buffer.alloc(64, 1), 0, 64, 0);
    closeSync(descriptor);
    // Far more than the system buffers of a connection hold; a file of holes, so it takes no room.
    truncateSync(file, 200_000_000);
    const { address } = await served(server, file, viewer);
    const response = await new Promise<http.IncomingMessage>((resolve, reject) => {
      http.get(address, { agent: false }, resolve).on("error", reject);
    });
    await new Promise((resolve) => response.once("readable", resolve));
    const rest = () =>
      new Promise<{ length: number; complete: boolean }>((resolve) => {
        let length = 0;
        response.on("data", (part: Buffer) => (length += part.length));
        response.on("error", () => undefined);
        response.on("close", () => resolve({ length, complete: response.complete }));
      });
    return { address, response, rest };
  }

  it("by being cut short breaks the connection off rather than keeping the browser waiting", async () => {
    const file = path.join(folder, "cut.mp4");
    const { address, rest } = await halfRead(file);
    truncateSync(file, 1000);
    const { length, complete } = await rest();
    expect(complete).toBe(false);
    expect(length).toBeLessThan(200_000_000);
    expect((await ask(address)).headers["content-length"]).toBe("1000");
  });

  it("by being deleted is read to its end, and then is not there", async () => {
    const file = path.join(folder, "deleted.mp4");
    const { address, rest } = await halfRead(file);
    rmSync(file);
    expect(await rest()).toEqual({ length: 200_000_000, complete: true });
    const after = await ask(address);
    expect(after.status).toBe(404);
    expect(after.body.toString()).toBe("deleted.mp4 is not there.");
  });

  it("by a pipe or a folder in its place is not there either", async () => {
    const file = recording("replaced.mp4");
    const { address } = await served(newServer(), file);
    rmSync(file);
    execFileSync("mkfifo", [file]);
    expect((await ask(address)).status).toBe(404);
    rmSync(file);
    mkdirSync(file);
    expect((await ask(address)).status).toBe(404);
  });

  it("by a link in its place is not there either: nothing else is ever read", async () => {
    const file = recording("linked.mp4");
    const { address } = await served(newServer(), file);
    rmSync(file);
    symlinkSync(recording("secret.txt", "a secret"), file);
    const { status, body } = await ask(address);
    expect({ status, text: body.toString() }).toEqual({
      status: 404,
      text: "linked.mp4 is a link, not a recording.",
    });
  });

  it("by growing is served as long as it is now", async () => {
    const file = recording("growing.mp4");
    const { address } = await served(newServer(), file);
    const before = await ask(address, { headers: { range: "bytes=-100" } });
    appendFileSync(file, Buffer.alloc(500, 9));
    const after = await ask(address, { headers: { range: "bytes=-500" } });
    expect(before.headers["content-range"]).toBe("bytes 900-999/1000");
    expect(after.headers["content-range"]).toBe("bytes 1000-1499/1500");
    expect(after.body.equals(Buffer.alloc(500, 9))).toBe(true);
    expect(after.headers.etag).not.toBe(before.headers.etag);
  });

  it("is let go a thousand times: broken-off requests leave no file open and the server as it was", async () => {
    const file = path.join(folder, "thousand.mp4");
    recording("thousand.mp4", "");
    truncateSync(file, 200_000_000);
    const { address } = await served(newServer(), file);
    for (let round = 0; round < 50; round += 1)
      await Promise.all(Array.from({ length: 20 }, (_, index) => breakOff(address, round * 20 + index)));
    await vi.waitFor(() => expect(openFiles(file)).toBe(0), 20_000);
    expect((await ask(address, { headers: { range: "bytes=0-9" } })).status).toBe(206);
  });

  /** Asks for a part and breaks off: before the answer, at its head, or after its first bytes. */
  function breakOff(address: string, number: number): Promise<void> {
    return new Promise((resolve) => {
      const range = `bytes=${number * 1000}-`;
      const request = http.get(address, { agent: false, headers: { range } }, (response) => {
        response.on("error", () => undefined);
        if (number % 3 === 1) request.destroy();
        else response.once("data", () => request.destroy());
      });
      request.on("error", () => undefined).on("close", resolve);
      if (number % 3 === 0) setTimeout(() => request.destroy(), number % 7);
    });
  }

  it("is let go when the browser breaks off: no file stays open", async () => {
    const file = path.join(folder, "aborted.mp4");
    const { response } = await halfRead(file);
    expect(openFiles(file)).toBe(1);
    response.destroy();
    await vi.waitFor(() => expect(openFiles(file)).toBe(0), 20_000);
  });

  it("is let go when its viewer is released, while another viewer goes on", async () => {
    const server = newServer();
    const file = path.join(folder, "released.mp4");
    const { address, rest } = await halfRead(file, server, "first");
    const other = await served(server, recording("kept.mp4"), "second");
    server.release("first");
    expect((await rest()).complete).toBe(false);
    await vi.waitFor(() => expect(openFiles(file)).toBe(0), 20_000);
    expect((await ask(address)).status).toBe(404);
    expect((await ask(other.address)).status).toBe(200);
  });

  /** How often this process has a file open. */
  function openFiles(file: string): number {
    const listed = execFileSync("sh", [
      "-c",
      `ls -l /proc/${process.pid}/fd 2>/dev/null || lsof -p ${process.pid}`,
    ]);
    return listed
      .toString()
      .split("\n")
      .filter((line) => line.includes(path.basename(file))).length;
  }
});

describe("The server lives as long as a viewer holds it", () => {
  it("and is gone with the last", async () => {
    const server = newServer();
    const { address } = await served(server, recording("last.mp4"), "first");
    await served(server, recording("last.mp4"), "second");
    server.release("first");
    server.release("first");
    server.release("never seen");
    const { port } = new URL(address);
    expect((await ask(`http://127.0.0.1:${port}/x`)).status).toBe(404);
    server.release("second");
    await vi.waitFor(() => expect(ask(address)).rejects.toThrow("ECONNREFUSED"), 20_000);
  });

  it("or with the extension", async () => {
    const server = newServer();
    const { address } = await served(server, recording("disposed.mp4"));
    server.dispose();
    await vi.waitFor(() => expect(ask(address)).rejects.toThrow("ECONNREFUSED"), 20_000);
  });

  it("at one origin from a viewer's opening to its end, whatever others do", async () => {
    const server = newServer();
    const origin = await server.origin("waiting");
    const { address } = await served(server, recording("quick.mp4"), "quick");
    expect(new URL(address).origin).toBe(origin);
    server.release("quick");
    expect(await server.origin("waiting")).toBe(origin);
    expect(new URL((await served(server, recording("quick.mp4"), "waiting")).address).origin).toBe(origin);
  });

  it("and starts again when a viewer comes back", async () => {
    const server = newServer();
    const file = recording("again.mp4");
    const before = await served(server, file);
    server.release("viewer");
    const after = await served(server, file);
    expect(after.address).not.toBe(before.address);
    expect((await ask(after.address)).status).toBe(200);
    expect((await ask(after.address, { path: new URL(before.address).pathname })).status).toBe(404);
  });

  it("and leaves nothing behind when a viewer closes while its recording is being found", async () => {
    const external: { asked: string[]; go: (() => void)[] } = { asked: [], go: [] };
    const server = newServer({
      asExternal: (address) => {
        external.asked.push(address);
        return new Promise((resolve) => external.go.push(() => resolve(address)));
      },
    });
    const serving = server.serve(recording("hasty.mp4"), "viewer");
    await vi.waitFor(() => expect(external.asked.length).toBe(3), 20_000);
    server.release("viewer");
    for (const go of external.go) go();
    expect((await serving).address).toBeNull();
    const [address = ""] = external.asked;
    await vi.waitFor(() => expect(ask(address)).rejects.toThrow("ECONNREFUSED"), 20_000);
  });
});

describe("Frame times", () => {
  const source = make(folder, "frames.mp4", ...picture("25", 2), ...plain);

  function timesIn(body: Buffer): number[] {
    return Array.from({ length: body.length / 8 }, (_, index) => body.readDoubleLE(index * 8));
  }

  it("come as numbers of eight bytes, once they are known", async () => {
    const { frames } = await served(newServer({ trusted: () => true }), source);
    const { status, headers, body } = await ask(frames, { headers: { origin: page } });
    expect(status).toBe(200);
    expect(headers).toMatchObject({
      "content-type": "application/octet-stream",
      "content-length": "400",
      "first-frame": "0",
      "access-control-allow-origin": page,
    });
    const times = timesIn(body);
    expect(times.length).toBe(50);
    times.forEach((time, index) => expect(time).toBeCloseTo(index / 25, 12));
    expect(await ask(frames, { method: "HEAD" })).toMatchObject({ status: 200, body: Buffer.alloc(0) });
  });

  it("are read again after the recording has changed", async () => {
    const file = make(folder, "grown.mp4", ...picture("25", 1), ...plain);
    const { frames } = await served(newServer({ trusted: () => true }), file);
    expect((await ask(frames)).body.length).toBe(25 * 8);
    const longer = make(folder, "longer.mp4", ...picture("25", 2), ...plain);
    renameSync(longer, file);
    expect((await ask(frames)).body.length).toBe(50 * 8);
  });

  it("are not read in a workspace that is not trusted: nothing is started until it is", async () => {
    const note = path.join(folder, "started");
    const ffprobePath = script(folder, "noting", `echo >> '${note}'; exec ffprobe "$@"`);
    let trusted = false;
    const server = newServer({
      trusted: () => trusted,
      ffprobePath,
      cacheDir: path.join(folder, "untrusted"),
    });
    const { address, frames } = await served(server, source);
    const refusal = await ask(frames);
    expect(refusal.status).toBe(404);
    expect(refusal.body.toString()).toContain("trusted");
    expect((await ask(address)).status).toBe(200);
    expect(existsSync(note)).toBe(false);
    trusted = true;
    expect((await ask(frames)).body.length).toBe(400);
    expect(existsSync(note)).toBe(true);
  });

  it("are answered with what to do where ffprobe is missing, and come once it is there", async () => {
    const ffprobePath = path.join(folder, "installed-later");
    const server = newServer({ trusted: () => true, ffprobePath, cacheDir: path.join(folder, "missing") });
    const { address, frames } = await served(server, source);
    const { status, headers, body } = await ask(frames);
    expect({ status, type: headers["content-type"] }).toEqual({
      status: 404,
      type: "text/plain; charset=utf-8",
    });
    expect(body.toString()).toContain("Install ffmpeg");
    expect((await ask(address)).status).toBe(200);
    script(folder, "installed-later", 'exec ffprobe "$@"');
    expect((await ask(frames)).status).toBe(200);
  });

  it("are answered with the reason where a file is no recording", async () => {
    const { frames } = await served(newServer({ trusted: () => true }), recording("text.mp4", "only text"));
    const { status, body } = await ask(frames);
    expect(status).toBe(404);
    expect(body.toString()).toContain("can't be read as a recording");
  });

  it("are made once for all who ask, and no longer than someone wants them", async () => {
    const note = path.join(folder, "runs");
    const text = `case "$*" in
      -version) ${sayVersion("6.1", 60)};;
      *packet=*) echo $$ >> '${note}'; exec sleep 600;;
      *) exec ffprobe "$@";;
    esac`;
    const ffprobePath = script(folder, "endless", text);
    const server = newServer({
      trusted: () => true,
      ffprobePath,
      cacheDir: path.join(folder, "endless-cache"),
    });
    const { frames } = await served(server, source, "first");
    const second = await served(server, source, "second");
    const waiting = [ask(frames), ask(frames), ask(second.frames)].map((one) => one.catch(() => "cut off"));
    const started = () => (existsSync(note) ? readFileSync(note, "utf8") : "").split("\n").slice(0, -1);
    await vi.waitFor(() => expect(started().length).toBe(1), 20_000);
    server.release("first");
    expect(await waiting[0]).toBe("cut off");
    expect(started().length).toBe(1);
    const id = Number(started()[0]);
    expect(() => process.kill(id, 0)).not.toThrow();
    server.release("second");
    expect(await waiting[2]).toBe("cut off");
    await vi.waitFor(() => expect(() => process.kill(id, 0)).toThrow(), 20_000);
  });
});

describe("How loud a recording is", () => {
  const loud = make(
    folder,
    "loud.mp4",
    ...picture("25", 2),
    ...["-f", "lavfi", "-i", "aevalsrc=exprs='0.8*sin(2*PI*1000*t)*between(t\\,1\\,1.5)':d=2:s=48000"],
    ...plain,
    ...["-c:a", "aac"],
  );

  async function levels(server: MediaServer, file: string) {
    const { sound } = await server.serve(file, "viewer");
    return ask(sound ?? "");
  }

  it("comes as a byte for each hundredth of a second from the first frame on", async () => {
    const { status, body } = await levels(newServer({ trusted: () => true }), loud);
    expect(status).toBe(200);
    expect(body.length).toBeGreaterThanOrEqual(195);
    expect(Math.max(...body.subarray(10, 90))).toBeLessThan(10);
    expect(Math.min(...body.subarray(105, 145))).toBeGreaterThan(180);
    expect(Math.max(...body.subarray(160, 190))).toBeLessThan(10);
  });

  it("is the same for all who ask, whenever they ask", async () => {
    const server = newServer({ trusted: () => true });
    const { sound } = await server.serve(loud, "viewer");
    const [one, other] = await Promise.all([ask(sound ?? ""), ask(sound ?? "")]);
    const later = await ask(sound ?? "");
    expect(one.body.equals(other.body) && one.body.equals(later.body) && one.complete).toBe(true);
  });

  it("is nothing where there is no sound", async () => {
    const silent = make(folder, "silent.mp4", ...picture("25", 1), ...plain);
    const { status, body } = await levels(newServer({ trusted: () => true }), silent);
    expect({ status, length: body.length }).toEqual({ status: 204, length: 0 });
  });

  it("is not worked out in a workspace that is not trusted, nor of what is no recording", async () => {
    const untrusted = await levels(newServer(), loud);
    expect({ status: untrusted.status, text: untrusted.body.toString() }).toMatchObject({ status: 404 });
    expect(untrusted.body.toString()).toContain("trusted");
    const none = await levels(newServer({ trusted: () => true }), recording("text.mp4", "no recording"));
    expect(none.status).toBe(404);
  });
});

describe("A viewing copy", () => {
  it("is served with the frame times it is given, whatever ffprobe would say of it", async () => {
    const copy = make(folder, "copied.mp4", ...picture("25", 1), ...plain);
    const server = newServer({ trusted: () => true });
    const table = { times: Float64Array.of(0, 0.05, 0.1), first: 0.25, keyFrames: 1, longestGop: 3 };
    const { frames } = await server.serve(copy, "viewer", table);
    const { headers, body } = await ask(frames ?? "");
    expect(headers["first-frame"]).toBe("0.25");
    expect([body.readDoubleLE(0), body.readDoubleLE(8), body.readDoubleLE(16)]).toEqual([0, 0.05, 0.1]);
  });
});
