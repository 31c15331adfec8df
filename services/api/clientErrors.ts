import { type Server, STATUS_CODES } from "node:http";
import type { Socket } from "node:net";
import { problemMediaType } from "../../shared/contracts/problem.ts";
import { problem } from "./problems.ts";

const words: Readonly<Record<number, string>> = {
  400: "This is no HTTP request that we can read.",
  408: "The request took too long to arrive.",
  413: "The chunks of the body are too large.",
  431: "The headers are too large.",
};
const statuses: Readonly<Record<string, number>> = {
  ERR_HTTP_REQUEST_TIMEOUT: 408,
  HPE_HEADER_OVERFLOW: 431,
  HPE_CHUNK_EXTENSIONS_OVERFLOW: 413,
};

/** What Node cannot make a request of never comes to the routes: answered here, in the same form. */
export function answerClientErrors(server: Server): void {
  server.on("clientError", (error: NodeJS.ErrnoException, socket: Socket & { _httpMessage?: unknown }) => {
    // In the middle of an answer nothing sensible can be said any more.
    if (!socket.writable || error.code === "ECONNRESET" || hasBegun(socket)) return void socket.destroy();
    const status = statuses[error.code ?? ""] ?? 400;
    const body = JSON.stringify(problem(status, words[status]!));
    socket.end(
      [
        `HTTP/1.1 ${status} ${STATUS_CODES[status]}`,
        "connection: close",
        `content-type: ${problemMediaType}`,
        "cache-control: no-store",
        `content-length: ${Buffer.byteLength(body)}`,
        "",
        body,
      ].join("\r\n"),
    );
    // Whoever does not close from there on is closed from here.
    setTimeout(() => socket.destroy(), closesWithinMs).unref();
  });
}

const closesWithinMs = 2_000;

/** Node notes the answer that is being written at its socket, and looks there in its own handling of such errors. */
function hasBegun(socket: { _httpMessage?: unknown }): boolean {
  const answer = socket._httpMessage as { headersSent?: boolean } | null | undefined;
  return answer?.headersSent ?? false;
}
