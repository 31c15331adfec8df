import { Agent, request } from "node:http";
import type { Sent } from "./requests.ts";

/** Closed without an answer, and how. */
export interface Closed {
  readonly closed: string;
}

export interface Answered {
  readonly status: number;
  readonly headers: Headers;
  readonly text: string;
  /** Not read to its end, as a stream has none. */
  readonly isStream: boolean;
}

const hangsAfterMs = 30_000;
const streamReadMs = 100;

/** Sends what it is given as it is: fetch would straighten paths and methods. */
export function createSender(origin: string, sockets: number) {
  const agent = new Agent({ keepAlive: true, maxSockets: sockets });
  const { hostname, port } = new URL(origin);
  return {
    send(sent: Sent, headers: Readonly<Record<string, string>>): Promise<Answered | Closed | "hangs"> {
      return new Promise((resolve) => {
        let outgoing: ReturnType<typeof request>;
        try {
          outgoing = request({
            agent,
            hostname,
            port,
            method: sent.method,
            path: sent.path,
            headers: { ...headers, ...lengthOf(sent), ...sent.headers },
          });
        } catch (error) {
          // What Node's own client refuses to send never reaches a server.
          return resolve({ closed: `not sent: ${(error as NodeJS.ErrnoException).code}` });
        }
        const timer = setTimeout(() => {
          outgoing.destroy();
          resolve("hangs");
        }, hangsAfterMs);
        const end = (answered: Answered | Closed) => {
          clearTimeout(timer);
          resolve(answered);
        };
        outgoing.on("error", (error: NodeJS.ErrnoException) => end({ closed: String(error.code) }));
        outgoing.on("response", (response) => {
          const told = new Headers();
          for (const [name, value] of Object.entries(response.headers)) told.set(name, String(value));
          const chunks: Buffer[] = [];
          const isStream = (response.headers["content-type"] ?? "").startsWith("text/event-stream");
          const done = () =>
            end({ status: response.statusCode!, headers: told, text: Buffer.concat(chunks).toString(), isStream });
          response.on("data", (chunk: Buffer) => chunks.push(chunk));
          response.on("end", done);
          response.on("error", done);
          if (isStream) setTimeout(() => response.destroy(), streamReadMs);
          response.on("close", done);
        });
        if (sent.body === null) outgoing.end();
        else outgoing.end(sent.body);
      });
    },
    close: () => agent.destroy(),
  };
}

/** Node's client does not say how long a body is where a method usually has none, and what follows would be taken for the next request. */
function lengthOf({ body }: Sent): Record<string, string> {
  return body === null ? {} : { "content-length": String(Buffer.byteLength(body)) };
}
