import type { Response } from "express";
import type { EventSource } from "./route.ts";

/** A comment now and then keeps proxies from closing a stream in which nothing happens. */
const commentEveryMs = 15_000;

export function streamEvents(response: Response, source: EventSource): void {
  response.status(200).set({
    "content-type": "text/event-stream",
    "cache-control": "no-store",
    // Asks a proxy in front of us not to gather the events up.
    "x-accel-buffering": "no",
  });
  response.flushHeaders();
  const timer = setInterval(() => response.write(": still here\n\n"), commentEveryMs);
  const close = source(
    (event, data) => response.write(`event: ${event}\ndata: ${JSON.stringify(data)}\n\n`),
    () => response.end(),
  );
  response.on("close", () => {
    clearInterval(timer);
    close();
  });
}
