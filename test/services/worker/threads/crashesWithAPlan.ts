import { parentPort, workerData } from "node:worker_threads";
import type { FromThread, ThreadInput } from "../../../../services/worker/threadMessages.ts";

/** The real planner, which crashes when its search is over, with its best plan told before; a thread that is only to finish that plan does not search. */
if ((workerData as ThreadInput).searches) {
  const port = parentPort!;
  const say = port.postMessage.bind(port);
  port.postMessage = (message: FromThread, moved?: Parameters<typeof say>[1]) => {
    if (message.kind === "ended") throw new Error("a bug at the end of the search");
    say(message, moved);
  };
}
await import("../../../../services/worker/planThread.ts");
