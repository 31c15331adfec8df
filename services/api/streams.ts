import type { Request, Response } from "express";
import { actorOf } from "./guard.ts";
import type { EventSource } from "./route.ts";

/** A comment now and then keeps proxies from closing a stream in which nothing happens. */
const commentEveryMs = 15_000;

/** Our choice: several windows of several people, with room; and what one process may hold. */
const mostPerCaller = 32;
const mostInAll = 1_000;
/** Of what a caller has not read yet. Who is so far behind does better to come back: a stream begins with how things stand. */
const mostWaitingBytes = 256 * 1024;

export interface Streams {
  /** False: there are too many already, and nothing was sent. */
  open(request: Request, response: Response, source: EventSource): boolean;
}

export function createStreams(): Streams {
  const byCaller = new Map<string, number>();
  let inAll = 0;
  const count = (caller: string, change: 1 | -1) => {
    const now = (byCaller.get(caller) ?? 0) + change;
    if (now === 0) byCaller.delete(caller);
    else byCaller.set(caller, now);
    inAll += change;
  };

  return {
    open(request, response, source) {
      const actor = actorOf(request);
      const caller = actor === null ? `address ${request.socket.remoteAddress}` : `${actor.kind} ${actor.id}`;
      if (inAll >= mostInAll || (byCaller.get(caller) ?? 0) >= mostPerCaller) return false;
      count(caller, 1);
      response.once("close", () => count(caller, -1));
      streamEvents(response, source);
      return true;
    },
  };
}

function streamEvents(response: Response, source: EventSource): void {
  response.status(200).set({
    "content-type": "text/event-stream",
    "cache-control": "no-store",
    // Asks a proxy in front of us not to gather the events up.
    "x-accel-buffering": "no",
  });
  response.flushHeaders();
  const write = (text: string) => {
    if (response.destroyed) return;
    response.write(text);
    if (response.writableLength > mostWaitingBytes) response.destroy();
  };
  const timer = setInterval(() => write(": still here\n\n"), commentEveryMs);
  const close = source(
    (event, data) => write(`event: ${event}\ndata: ${JSON.stringify(data)}\n\n`),
    () => response.end(),
  );
  response.on("close", () => {
    clearInterval(timer);
    close();
  });
}
