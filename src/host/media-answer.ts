// How the media server answers one request: who may ask, for what, and which bytes go out.

import type { IncomingMessage, ServerResponse } from "node:http";
import { pipeline } from "node:stream/promises";
import type { Result } from "../bout/result";
import type { FrameIndex } from "../video/index";
import { contentType, openRecording, type OpenRecording } from "./media-file";
import { stretchOf } from "./media-range";
import type { Levels } from "./media-sound";

/** What one viewer may fetch under one token. */
export interface Grant {
  readonly file: string;
  readonly token: string;
  /** Answers under way, cut off when the viewer lets go. */
  readonly answers: Set<ServerResponse>;
}

export interface Answering {
  /** Hosts a request may name. */
  readonly hosts: ReadonlySet<string>;
  /** Origins a request may come from, beside those of VS Code's own views. */
  readonly origins: ReadonlySet<string>;
  readonly grant: (token: string) => Grant | undefined;
  readonly table: (file: string) => Promise<Result<FrameIndex, string>>;
  readonly sound: (file: string) => Promise<Result<Levels | null, string>>;
}

/** Status and a sentence; undefined where the request was answered. */
type Refusal = readonly [status: number, sentence: string] | undefined;

export async function answer(
  answering: Answering,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  response.setHeader("X-Content-Type-Options", "nosniff");
  response.setHeader("Cache-Control", "no-store");
  response.setHeader("Vary", "Origin");
  response.setHeader("Cross-Origin-Resource-Policy", "cross-origin");
  const refusal = turnAway(answering, request) ?? (await grantAccess(answering, request, response));
  if (refusal === undefined || response.destroyed) return;
  const [status, sentence] = refusal;
  response.setHeader("Content-Type", "text/plain; charset=utf-8");
  response.writeHead(status).end(request.method === "HEAD" ? undefined : sentence);
}

function turnAway({ hosts, origins }: Answering, { headers: { host, origin } }: IncomingMessage): Refusal {
  // A name that someone's DNS points at this machine must not become a way in.
  if (!hosts.has(host?.toLowerCase() ?? "")) return [403, "Not for this host."];
  if (origin !== undefined && !origins.has(origin) && !isView(origin)) return [403, "Not for this page."];
  return undefined;
}

async function grantAccess(
  { grant: grantOf, table, sound }: Answering,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<Refusal> {
  if (request.headers.origin !== undefined) {
    response.setHeader("Access-Control-Allow-Origin", request.headers.origin);
    response.setHeader("Access-Control-Expose-Headers", exposed);
  }
  const [, token = "", part] = /^\/([0-9a-f]{32})(\/frames|\/sound)?(?:\?.*)?$/.exec(request.url ?? "") ?? [];
  const grant = grantOf(token);
  if (grant === undefined) return [404, "Nothing here."];
  grant.answers.add(response);
  response.on("close", () => grant.answers.delete(response));
  switch (request.method) {
    case "OPTIONS":
      return allow(request, response);
    case "GET":
    case "HEAD":
      if (part === "/frames") return sendFrames(await table(grant.file), request, response);
      if (part === "/sound") return sendSound(await sound(grant.file), request, response);
      return sendRecording(grant.file, request, response);
    default:
      response.setHeader("Allow", "GET, HEAD, OPTIONS");
      return [405, "Only to be read."];
  }
}

/** Headers a page may read beside the harmless ones. */
const exposed = "Accept-Ranges, Content-Length, Content-Range, ETag, First-Frame";

/** Pages VS Code itself makes for views: of the desktop, and of its browser workbench. */
function isView(origin: string): boolean {
  return /^(vscode-webview:\/\/[a-z0-9-]+|https:\/\/[a-z0-9-]+\.vscode-cdn\.net)$/.test(origin);
}

/** Answers a browser that asks beforehand whether the page may send a Range. */
function allow(request: IncomingMessage, response: ServerResponse): Refusal {
  response.setHeader("Access-Control-Allow-Methods", "GET, HEAD");
  response.setHeader("Access-Control-Allow-Headers", "Range, If-Range");
  if (request.headers["access-control-request-private-network"] === "true")
    response.setHeader("Access-Control-Allow-Private-Network", "true");
  response.writeHead(204).end();
  return undefined;
}

async function sendRecording(
  file: string,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<Refusal> {
  const opened = await openRecording(file);
  if (!opened.ok) return [404, opened.problem];
  const { handle, size, tag } = opened.value;
  try {
    const ifRange = request.headers["if-range"];
    const range = ifRange === undefined || ifRange === tag ? request.headers.range : undefined;
    const stretch = stretchOf(range, size);
    response.setHeader("Accept-Ranges", "bytes");
    if (stretch === "outside") {
      response.setHeader("Content-Range", `bytes */${size}`);
      return [416, "Outside the recording."];
    }
    const { from, to } = stretch === "whole" ? { from: 0, to: size - 1 } : stretch;
    response.setHeader("Content-Type", contentType(file));
    response.setHeader("Content-Length", to - from + 1);
    response.setHeader("ETag", tag);
    if (stretch !== "whole") response.setHeader("Content-Range", `bytes ${from}-${to}/${size}`);
    response.writeHead(stretch === "whole" ? 200 : 206);
    if (request.method === "HEAD" || size === 0) response.end();
    else await sendBytes(opened.value, from, to, response);
    return undefined;
  } finally {
    await handle.close();
  }
}

async function sendBytes(
  { handle }: OpenRecording,
  from: number,
  to: number,
  response: ServerResponse,
): Promise<void> {
  const bytes = handle.createReadStream({ start: from, end: to, highWaterMark: 256 * 1024 });
  await pipeline(bytes, response, { end: false });
  // The file was cut short meanwhile: breaking off tells the browser; ending would leave it waiting for the rest.
  if (bytes.bytesRead < to - from + 1) response.destroy();
  else response.end();
}

function sendFrames(
  table: Result<FrameIndex, string>,
  request: IncomingMessage,
  response: ServerResponse,
): Refusal {
  if (!table.ok) return [404, table.problem];
  const { times, first } = table.value;
  const body = Buffer.alloc(times.length * 8);
  times.forEach((time, index) => body.writeDoubleLE(time, index * 8));
  response.setHeader("Content-Type", "application/octet-stream");
  response.setHeader("Content-Length", body.length);
  response.setHeader("First-Frame", String(first));
  response.writeHead(200).end(request.method === "HEAD" ? undefined : body);
  return undefined;
}

/** As it comes; without sound there is nothing to send. */
async function sendSound(
  levels: Result<Levels | null, string>,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<Refusal> {
  if (!levels.ok) return [404, levels.problem];
  response.setHeader("Content-Type", "application/octet-stream");
  response.writeHead(levels.value === null ? 204 : 200);
  if (levels.value === null || request.method === "HEAD") response.end();
  else await pipeline(levels.value, response);
  return undefined;
}
