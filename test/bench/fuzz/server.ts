import { setTimeout as sleep } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { createApp } from "../../../services/api/app.ts";
import { createAuthentication } from "../../../services/api/authenticate.ts";
import { listen } from "../../../services/api/listen.ts";
import { createMover } from "../../../services/moves/mover.ts";
import { connectQueue } from "../../../services/queue/connect.ts";
import { partQueue, planQueue } from "../../../services/queue/queue.ts";
import { readScenario } from "../../../services/scenario/read.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { connectStore } from "../../../services/store/connect.ts";
import { createViewMaker } from "../../../services/views/viewMaker.ts";
import { judgeCaseSet } from "../../../shared/cases/judgeCaseSet.ts";
import { roles } from "../../../shared/contracts/access.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { access, acting, everybody, madeBy } from "../../support/acting.ts";
import { startTestDatabase, temporaryFolder } from "../../support/servers.ts";
import { tokenOf } from "../../support/tokens.ts";

/** The API as a process of its own, without a worker, with an operation and a plan in it. Tells how much memory it holds when it is asked. */
export interface FromServer {
  readonly kind: "ready" | "memory" | "error";
  readonly origin?: string;
  readonly known?: Readonly<Record<string, readonly string[]>>;
  readonly crewLead?: { readonly authorization: string };
  readonly heapMb?: number;
  readonly rssMb?: number;
  readonly message?: string;
}
const idsOf = (things: readonly { readonly id: string }[]) => things.map(({ id }) => id);
const tell = (message: FromServer) => process.send!(message);

const database = await startTestDatabase();
const { databaseUrl } = database;
let stopping = false;
const onError = (error: unknown) => {
  if (stopping) return;
  tell({ kind: "error", message: error instanceof Error ? `${error.message}\n${error.stack}` : String(error) });
};
const store = await connectStore({ databaseUrl, onConnectionError: onError });
const queue = await connectQueue({ kind: planQueue, databaseUrl, redisUrl: null, onConnectionError: onError });
const runs = await connectQueue({ kind: partQueue(1), databaseUrl, redisUrl: null, onConnectionError: onError });
const { folder } = temporaryFolder();

// Examples in the document are about this one too.
const read = await readScenario(fileURLToPath(new URL("../../../scenarios/small", import.meta.url)));
if (!read.ok) throw new Error("scenarios/small is refused");
const { operation } = read;
const { operation: stored } = await store.importOperation(operation, acting);
const request = await madeBy(
  store.addPlanRequest({ operationId: stored.id, version: 1, budget: { iterations: 50 }, seed: 1 }, acting),
);
const plan = planOperation(operation, {
  seed: 1,
  random: createRandom(1),
  doneShare: (done) => done / 50,
});
await store.startRequest(request.id);
await store.finishRequest(request.id, { status: "done", plan, report: checkPlan(operation, plan) });
const cases = {
  formatVersion: 1,
  weeksPerYear: 20,
  interestPct: 5,
  cases: [{ id: "more", name: "more", changes: [{ kind: "addTender", like: operation.fleet.tenders[0]!.id }] }],
};
const judged = judgeCaseSet({ name: "cases", cases }, operation);
if (!judged.ok) throw new Error(JSON.stringify(judged.faults));
const set = { operationId: stored.id, name: "cases", document: judged.document };
const { caseSet } = await store.importCaseSet(set, acting);
const ask = { kind: "remedies", operationId: stored.id, version: 1, planId: request.id, ask: {}, parts: [{}] } as const;
const study = await madeBy(store.addStudy(ask, acting));
await store.publish(request.id, 0, "", acting);

/** Most callers may do everything, so that what lies behind the door is reached too. */
const mover = createMover({ onError });
const maker = createViewMaker({ onError });
const { personId } = await tokenOf(store, roles);
const crews = operation.fleet.crews.map(({ id: crewId }) => ({ operationId: stored.id, crewId }));
const crewLead = await tokenOf(store, ["crewLead"], crews.slice(0, 1));
const authenticate = createAuthentication(store, access);
const app = createApp({
  store,
  queue,
  runs,
  mover,
  maker,
  access,
  onError,
  pageFolder: folder,
  authenticate: async (call) =>
    call.get("authorization") === "Bearer everybody"
      ? { status: "known", actor: { ...everybody, id: personId } }
      : authenticate(call),
});
const bound = await listen(app, { host: "127.0.0.1", port: 19_080, orNext: true });
if (bound.status !== "listening") throw new Error("no free port");

process.on("message", async (message) => {
  if (message === "stop") {
    stopping = true;
    await bound.api.close();
    await mover.close();
    await maker.close();
    await database.stop();
    process.exit(0);
  }
  // What only waits to be collected does not count.
  for (let tried = 0; tried < 4; tried++) {
    (globalThis as { gc?: () => void }).gc?.();
    await sleep(50);
  }
  const { heapUsed, rss } = process.memoryUsage();
  tell({ kind: "memory", heapMb: heapUsed / 1e6, rssMb: rss / 1e6 });
});
process.on("disconnect", () => process.exit(1));
tell({
  kind: "ready",
  origin: `http://127.0.0.1:${bound.api.port}`,
  crewLead: crewLead.headers,
  known: {
    personId: [personId],
    operationId: [stored.id],
    requestId: [request.id],
    planId: [request.id],
    version: ["1"],
    caseSetId: [caseSet.id],
    studyId: [study.id],
    date: plan.crewDays.map(({ date }) => date),
    type: idsOf(operation.fleet.aircraftTypes),
    orderId: idsOf(operation.orders),
    productId: idsOf(operation.products),
    fieldId: operation.fields.features.map(({ properties }) => properties.id),
    sensitiveId: operation.sensitive.features.map(({ properties }) => properties.id),
    crewId: idsOf(operation.fleet.crews),
    aircraftTypeId: idsOf(operation.fleet.aircraftTypes),
    aircraftId: idsOf(operation.fleet.aircraft),
    chargerId: idsOf(operation.fleet.chargers),
    tenderId: idsOf(operation.fleet.tenders),
    baseId: idsOf(operation.settings.bases),
    waterPointId: idsOf(operation.settings.waterPoints),
    blockId: plan.blocks.map(({ id }) => id),
  },
});
