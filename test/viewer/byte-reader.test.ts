// Parts of a recording, from memory and by its address, with what follows them.

import { afterEach, describe, expect, test, vi } from "vitest";
import { ByteReader } from "../../src/viewer/picture/byte-reader";

const bytes = Uint8Array.from({ length: 3_000_000 }, (_, index) => (index * 7) % 251);
const address = "http://127.0.0.1:9/token";

afterEach(() => {
  vi.unstubAllGlobals();
});

/** A server of `bytes` that answers as RFC 9110 says, and what it was asked for. */
function serving(answer: (range: string) => Response = partOf) {
  const asked: string[] = [];
  vi.stubGlobal("fetch", (_address: string, init?: RequestInit) => {
    const range = new Headers(init?.headers).get("Range");
    if (init?.method === "HEAD")
      return Promise.resolve(new Response(null, { headers: { "Content-Length": String(bytes.length) } }));
    asked.push(range ?? "all");
    return Promise.resolve(answer(range ?? ""));
  });
  return asked;
}

function partOf(range: string): Response {
  const [, first, last] = /^bytes=(\d+)-(\d+)$/.exec(range) ?? [];
  return new Response(bytes.slice(Number(first), Number(last) + 1), { status: 206 });
}

describe.each([
  ["from memory", () => new ByteReader(new Blob([bytes]))],
  [
    "by its address",
    () => {
      serving();
      return new ByteReader(address);
    },
  ],
] as const)("%s", (_where, reader) => {
  test.each([
    [0, 10],
    [500_000, 500_001],
    [131_000, 270_000],
    [2_999_990, 3_000_000],
    [0, 3_000_000],
  ])("the bytes from %i up to %i", async (start, end) => {
    const read = await reader().read(start, end);
    expect(Buffer.from(read).equals(Buffer.from(bytes.subarray(start, end)))).toBe(true);
  });

  test("the size", async () => {
    expect(await reader().size()).toBe(3_000_000);
  });
});

test("what follows a part is brought with it, and a part of a part is not asked for again", async () => {
  const asked = serving();
  const reader = new ByteReader(address);
  await reader.read(1000, 1010);
  await reader.read(2000, 60_000);
  await reader.read(1000, 1001);
  expect(asked).toEqual(["bytes=1000-132071"]);
  expect([...(await reader.read(0, 2))]).toEqual([0, 7]);
  expect(asked).toEqual(["bytes=1000-132071", "bytes=0-131071"]);
});

test("only so many parts are kept", async () => {
  const asked = serving();
  const reader = new ByteReader(address);
  await reader.read(0, 1);
  for (let part = 1; part <= 16; part += 1) await reader.read(part * 150_000, part * 150_000 + 1);
  const before = asked.length;
  await reader.read(0, 1);
  expect(asked).toHaveLength(before + 1);
});

test.each([
  ["a server that sends all of it", () => new Response(bytes, { status: 200 })],
  ["one that sends less", () => new Response(bytes.slice(0, 5), { status: 206 })],
  ["one that is gone", () => new Response("", { status: 404 })],
])("%s is no way to read a part", async (_what, answer) => {
  serving(answer);
  await expect(new ByteReader(address).read(0, 100)).rejects.toThrow();
});

test("an address without a length is no way to read at all", async () => {
  vi.stubGlobal("fetch", () => Promise.resolve(new Response(null, { status: 404 })));
  await expect(new ByteReader(address).read(0, 100)).rejects.toThrow(/404/);
});
