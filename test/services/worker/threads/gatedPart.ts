import { appendFileSync, existsSync } from "node:fs";
import { parentPort, threadId } from "node:worker_threads";
import type { FromPartThread, PartWork } from "../../../../services/worker/partThreads.ts";

/** A part that notes that it has begun, waits until its gate is there if it has one, and answers with its number doubled; or breaks. */
export interface GatedAsk {
  readonly number: number;
  /** Files: written to by the part, waited for by it. */
  readonly notes?: string;
  readonly gate?: string;
  readonly breaks?: boolean;
}

const say = (message: FromPartThread) => parentPort!.postMessage(message);

parentPort!.on("message", async (work: PartWork) => {
  const { number, notes, gate, breaks } = work.ask as GatedAsk;
  if (notes !== undefined) appendFileSync(notes, `${number}\n`);
  if (breaks) throw new Error("a bug in a part");
  say({ kind: "share", share: 0.5 });
  while (gate !== undefined && !existsSync(gate)) await new Promise((resolve) => setTimeout(resolve, 50));
  say({ kind: "result", result: { doubled: number * 2, threadId } });
});
