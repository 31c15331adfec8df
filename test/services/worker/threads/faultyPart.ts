import { appendFileSync, existsSync, readFileSync } from "node:fs";
import { parentPort, Worker } from "node:worker_threads";
import type { FromPartThread, PartWork } from "../../../../services/worker/partThreads.ts";

/** A part that goes wrong in some way in its first starts, and then answers. */
export interface FaultyAsk {
  readonly fault: "throws" | "exits" | "fillsMemory" | "unstorable" | "none";
  /** So often. */
  readonly times: number;
  /** A file that every start is noted in. */
  readonly notes: string;
  /** A file to wait for before answering. */
  readonly gate?: string;
}

const say = (message: FromPartThread) => parentPort!.postMessage(message);
const fills = "const all = []; for (;;) all.push(new Array(100_000).fill(Math.random()));";

parentPort!.on("message", async (work: PartWork) => {
  const { fault, times, notes, gate } = work.ask as FaultyAsk;
  const before = existsSync(notes) ? readFileSync(notes, "utf8").length : 0;
  appendFileSync(notes, ".");
  while (gate !== undefined && !existsSync(gate)) await new Promise((resolve) => setTimeout(resolve, 50));
  if (before < times) {
    if (fault === "throws") throw new Error("a bug in a part");
    if (fault === "exits") process.exit(3);
    // A thread of its own, so that its memory can be small: its error is the one that a full thread ends with.
    if (fault === "fillsMemory") {
      const full = new Worker(fills, { eval: true, resourceLimits: { maxOldGenerationSizeMb: 16 } });
      full.once("error", (error) => {
        throw error;
      });
      return;
    }
  }
  // The store does not take what is done without a result.
  say({ kind: "result", result: fault === "unstorable" ? undefined : "well" });
});
