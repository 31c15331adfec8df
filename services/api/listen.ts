import { createServer, type Server } from "node:http";
import type { Express } from "express";
import { answerClientErrors } from "./clientErrors.ts";

const drainMs = 2_000;
/** Our choice: how many ports after the wanted one are tried. */
const portTries = 20;

/** How long and how much a caller may take of us before anything of it is understood. Our choice. */
export interface ConnectionLimits {
  readonly headersWithinMs: number;
  /** With its body. */
  readonly requestWithinMs: number;
  readonly headerBytes: number;
  readonly connections: number;
}
const usualLimits: ConnectionLimits = {
  headersWithinMs: 10_000,
  // 30 MB at 5 Mbit/s take 50 s.
  requestWithinMs: 60_000,
  headerBytes: 16 * 1024,
  connections: 2_000,
};
/** Longer than the minute after which proxies in front of us let go of a connection, so that it is they who do. */
const keepAliveMs = 65_000;
/** Who has gone without a word is found out by TCP's own probes. */
const probeAfterMs = 30_000;

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
  readonly limits?: ConnectionLimits;
}

export async function listen(app: Express, options: ListenOptions): Promise<ListenOutcome> {
  const { host, port: first, orNext } = options;
  const last = orNext ? Math.min(first + portTries, 65_535) : first;
  for (let port = first; port <= last; port++) {
    const server = createLimitedServer(app, options.limits ?? usualLimits);
    if (await bound(server, host, port)) return { status: "listening", api: listening(server) };
  }
  return { status: "portTaken", port: first };
}

function createLimitedServer(app: Express, limits: ConnectionLimits): Server {
  const server = createServer(
    {
      headersTimeout: limits.headersWithinMs,
      requestTimeout: limits.requestWithinMs,
      connectionsCheckingInterval: Math.min(limits.headersWithinMs / 4, 2_000),
      keepAliveTimeout: keepAliveMs,
      maxHeaderSize: limits.headerBytes,
      keepAlive: true,
      keepAliveInitialDelay: probeAfterMs,
    },
    app,
  );
  server.maxConnections = limits.connections;
  answerClientErrors(server);
  return server;
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
