import { parentPort, workerData } from "node:worker_threads";
import { loadHighs } from "../linear/highs.ts";
import { polishWith } from "../solver/polish.ts";
import { createTrying } from "../solver/remedies/tryChanges.ts";
import type { FromRemedyThread, RemedyThreadInput, ToRemedyThread } from "./remedyMessages.ts";

/** One thread that tries remedies, one after the other as they come. */
const { operation, plan, iterations } = workerData as RemedyThreadInput;
const port = parentPort!;
const tryChanges = createTrying(operation, plan, { iterations, polish: polishWith(await loadHighs(), undefined) });

port.on("message", ({ at, task }: ToRemedyThread) => {
  const answer: FromRemedyThread = { at, tried: tryChanges(task) };
  port.postMessage(answer);
});
