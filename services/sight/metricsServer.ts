import { createServer } from "node:http";
import { metricsType } from "./metrics.ts";

export interface MetricsServer {
  readonly port: number;
  close(): Promise<void>;
}

/** On a port of its own, so that the one that people reach has no such address: figures tell how a business goes. */
export function serveMetrics(host: string, port: number, text: () => Promise<string>): Promise<MetricsServer> {
  const server = createServer(
    { requestTimeout: 5_000, connectionsCheckingInterval: 2_000 },
    async (request, response) => {
      if (request.method !== "GET" || request.url !== "/metrics") return void response.writeHead(404).end();
      try {
        response.writeHead(200, { "content-type": metricsType, "cache-control": "no-store" }).end(await text());
      } catch {
        response.writeHead(503, { "retry-after": "5" }).end();
      }
    },
  );
  server.maxConnections = 16;
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, host, () => {
      const address = server.address();
      resolve({
        port: address !== null && typeof address === "object" ? address.port : port,
        close: () =>
          new Promise((closed) => {
            server.close(() => closed());
            server.closeAllConnections();
          }),
      });
    });
  });
}
