import { createServer, type Server } from "node:http";
import type { Express } from "express";

const drainMs = 2_000;
/** Our choice: 30 MB at 5 Mbit/s take 50 s. Who is slower is answered 408 and cut off, so that slow callers cannot hold all connections. */
const readingWithin = { headersTimeout: 15_000, requestTimeout: 60_000, connectionsCheckingInterval: 5_000 };
/** Our choice: how many ports after the wanted one are tried. */
const portTries = 20;

export interface Listening {
  readonly port: number;
  /** Lets requests that are being answered end, within a short time, and closes everything else. */
  close(): Promise<void>;
}

export type ListenOutcome =
  | { readonly status: "listening"; readonly api: Listening }
  | { readonly status: "portTaken"; readonly port: number };

export interface ListenOptions {
  readonly host: string;
  readonly port: number;
  /** Whether another port will do when this one is taken. */
  readonly orNext: boolean;
}

export async function listen(app: Express, options: ListenOptions): Promise<ListenOutcome> {
  const { host, port: first, orNext } = options;
  const last = orNext ? Math.min(first + portTries, 65_535) : first;
  for (let port = first; port <= last; port++) {
    const server = createServer(readingWithin, app);
    if (await bound(server, host, port)) return { status: "listening", api: listening(server) };
  }
  return { status: "portTaken", port: first };
}

function bound(server: Server, host: string, port: number): Promise<boolean> {
  return new Promise((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) =>
      error.code === "EADDRINUSE" ? resolve(false) : reject(error),
    );
    server.listen(port, host, () => resolve(true));
  });
}

function listening(server: Server): Listening {
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("the server has no port");
  return {
    port: address.port,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeIdleConnections();
        setTimeout(() => server.closeAllConnections(), drainMs).unref();
      }),
  };
}
