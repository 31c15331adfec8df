import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { defaultPlanSeed, hasEnded, type PlanRequest } from "../../shared/contracts/planRequests.ts";
import { requestPiece } from "../queue/pieces.ts";
import type { WorkQueue } from "../queue/queue.ts";
import { formatFault } from "../scenario/faults.ts";
import { readScenario } from "../scenario/read.ts";
import { actingAsService } from "../store/acting.ts";
import type { Store } from "../store/store.ts";

const demoFolder = fileURLToPath(new URL("../../scenarios/demo", import.meta.url));
const demoSeconds = 10;
const acting = actingAsService("firstStart");

export interface DemoParts {
  readonly store: Store;
  readonly queue: WorkQueue;
  readonly say: (line: string) => void;
  readonly stopWanted: Promise<unknown>;
}

/** So that there is something to see at the first start: takes the demo in and plans it, when nothing is stored yet. */
export async function planDemo({ store, queue, say, stopWanted }: DemoParts): Promise<void> {
  const stored = await store.listOperations();
  if (stored.length > 0) {
    say(`Stored: ${stored.map(({ name, version }) => `${name} (version ${version})`).join(", ")}.`);
    return;
  }
  if (!existsSync(demoFolder)) return;
  const read = await readScenario(demoFolder);
  if (!read.ok) {
    for (const fault of read.faults) say(`The demo is faulty: ${formatFault(fault)}`);
    return;
  }
  const { operation } = await store.importOperation(read.operation, acting);
  say(`Nothing was stored; took in the demo (${operation.name}), planning it for ${demoSeconds} s.`);
  const made = await store.addPlanRequest(
    {
      operationId: operation.id,
      version: operation.version,
      budget: { seconds: demoSeconds },
      seed: defaultPlanSeed,
    },
    acting,
  );
  if (made.outcome === "otherCall") return;
  const request = made.thing;
  await queue.addInTurn([requestPiece(request)]);
  const ended = await Promise.race([stopWanted.then(() => null), endOf(store, request.id)]);
  if (ended) say(await resultWords(store, ended));
}

function endOf(store: Store, requestId: string): Promise<PlanRequest> {
  return new Promise((resolve, reject) => {
    const stop = store.watch(requestId, () => {
      store.planRequest(requestId).then((request) => {
        if (!request || !hasEnded(request.status)) return;
        stop();
        resolve(request);
      }, reject);
    });
  });
}

async function resultWords(store: Store, request: PlanRequest): Promise<string> {
  if (request.failure) return `No plan: ${request.failure.message}`;
  const [stored, report] = await Promise.all([store.plan(request.id), store.checkReport(request.id)]);
  if (!stored || !report) return `No plan: the request was ${request.status}.`;
  const { score, conflicts } = stored.plan;
  const counts = Object.values(report.checked);
  const checks = counts.reduce((sum, count) => sum + count, 0);
  const verdict = report.breaches.length === 0 ? "none broken" : `${report.breaches.length} breaches`;
  return [
    `Planned ${score.servedHa.toFixed(1)} of ${score.orderedHa.toFixed(1)} ha;`,
    `${conflicts.length} orders in whole or part in conflict;`,
    `the checker examined ${counts.filter((count) => count > 0).length} rules ${checks} times, ${verdict}.`,
  ].join(" ");
}
