import { appendFileSync, existsSync } from "node:fs";
import { parentPort, workerData } from "node:worker_threads";
import type { FromPartThread, PartWork } from "../../../../services/worker/runPart.ts";

/** A part that notes that it has begun, waits until its gate is there if it has one, and answers with its number doubled; or breaks. */
export interface GatedAsk {
  readonly number: number;
  /** Files: written to by the part, waited for by it. */
  readonly notes?: string;
  readonly gate?: string;
  readonly breaks?: boolean;
}

const { number, notes, gate, breaks } = (workerData as PartWork).ask as GatedAsk;
const say = (message: FromPartThread) => parentPort!.postMessage(message);
if (notes !== undefined) appendFileSync(notes, `${number}\n`);
if (breaks) throw new Error("a bug in a part");
say({ kind: "share", share: 0.5 });
while (gate !== undefined && !existsSync(gate)) await new Promise((resolve) => setTimeout(resolve, 50));
say({ kind: "result", result: { doubled: number * 2 } });
