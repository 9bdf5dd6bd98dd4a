// Asks the media server as no browser would: any method, path and header.

import http from "node:http";

export interface Answer {
  readonly status: number;
  readonly headers: http.IncomingHttpHeaders;
  readonly body: Buffer;
  /** False where the connection broke before all that was promised had come. */
  readonly complete: boolean;
}

/** `path` goes out as it is, unlike that of an address. Fails where no answer begins. */
export function ask(
  address: string,
  options: { path?: string; method?: string; headers?: http.OutgoingHttpHeaders } = {},
): Promise<Answer> {
  const { hostname, port, pathname } = new URL(address);
  return new Promise((resolve, reject) => {
    const request = http.request({ hostname, port, path: pathname, agent: false, ...options }, (response) => {
      const parts: Buffer[] = [];
      response.on("data", (part: Buffer) => parts.push(part));
      response.on("error", () => undefined);
      response.on("close", () =>
        resolve({
          status: response.statusCode ?? 0,
          headers: response.headers,
          body: Buffer.concat(parts),
          complete: response.complete,
        }),
      );
    });
    request.on("error", reject);
    request.end();
  });
}
