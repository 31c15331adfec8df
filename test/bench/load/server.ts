import express from "express";
import { createApp } from "../../../services/api/app.ts";
import { createAuthentication } from "../../../services/api/authenticate.ts";
import { listen } from "../../../services/api/listen.ts";
import { createMover } from "../../../services/moves/mover.ts";
import { connectQueue } from "../../../services/queue/connect.ts";
import { partQueue, planQueue } from "../../../services/queue/queue.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { connectStore } from "../../../services/store/connect.ts";
import { createViewMaker } from "../../../services/views/viewMaker.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { access, acting, madeBy } from "../../support/acting.ts";
import { planned } from "../../support/planned.ts";
import { startTestDatabase, temporaryFolder } from "../../support/servers.ts";
import { tokenOf } from "../../support/tokens.ts";
import { ordersPerCrew } from "../weeks/runWeek.ts";

/** A server in a process of its own with a published week, and beside it a bare route that sends what it is told, without asking who calls. */
export interface FromLoadServer {
  readonly origin: string;
  readonly bareOrigin: string;
  readonly cheap: string;
  readonly heavy: readonly string[];
  readonly views: readonly { readonly what: string; readonly path: string }[];
  readonly headers: { readonly authorization: string };
}

/** What the bare route sends from now on. */
export interface ToLoadServer {
  readonly body: string;
  readonly headers: Readonly<Record<string, string>>;
}

const iterations = 150;
const orders = Number(process.argv[2]);
let stopping = false;
const onError = (error: unknown) => {
  if (!stopping) throw error;
};
const database = await startTestDatabase();
const { databaseUrl } = database;
const store = await connectStore({ databaseUrl, onConnectionError: onError });
const queue = await connectQueue({ kind: planQueue, databaseUrl, redisUrl: null, onConnectionError: onError });
const runs = await connectQueue({ kind: partQueue(1), databaseUrl, redisUrl: null, onConnectionError: onError });
const operation = generateOperation({
  orders,
  crews: Math.max(1, Math.round(orders / ordersPerCrew)),
  days: 7,
  seed: 1,
});
const { operation: stored } = await store.importOperation(operation, acting);
const asked = { operationId: stored.id, version: stored.version, budget: { iterations }, seed: 1 };
const { id: planId } = await madeBy(store.addPlanRequest(asked, acting));
const plan = planned(operation, iterations);
await store.startRequest(planId);
await store.finishRequest(planId, { status: "done", plan, report: checkPlan(operation, plan) });
await store.publish(planId, 0, "", acting);
const { headers } = await tokenOf(store, ["dispatcher"]);

const app = createApp({
  store,
  queue,
  runs,
  mover: createMover({ onError }),
  maker: createViewMaker({ onError }),
  onError,
  access,
  pageFolder: temporaryFolder().folder,
  authenticate: createAuthentication(store, access),
});
let sent: { body: Buffer; headers: Readonly<Record<string, string>> } = { body: Buffer.alloc(0), headers: {} };
const bare = express();
bare.get("/", (_request, response) => {
  response.set(sent.headers).end(sent.body);
});
const [api, bareApi] = [
  await listen(app, { host: "127.0.0.1", port: 19_180, orNext: true }),
  await listen(bare, { host: "127.0.0.1", port: 19_280, orNext: true }),
];
if (api.status !== "listening" || bareApi.status !== "listening") throw new Error("no free port");

process.on("message", (message: ToLoadServer) => {
  sent = { body: Buffer.from(message.body, "base64"), headers: message.headers };
  process.send!("set");
});
process.on("disconnect", async () => {
  stopping = true;
  await database.stop();
  process.exit(0);
});
const { crewId, date } = plan.crewDays[0]!;
process.send!({
  origin: `http://127.0.0.1:${api.api.port}`,
  bareOrigin: `http://127.0.0.1:${bareApi.api.port}`,
  views: [
    { what: "crew-day", path: `/api/operations/${stored.id}/crews/${crewId}/days/${date}` },
    { what: "week", path: `/api/plans/${planId}/week` },
  ],
  cheap: `/api/plans?operationId=${stored.id}`,
  heavy: [
    `/api/plans/${planId}/calm`,
    `/api/plans/${planId}/week.pdf`,
    ...plan.crewDays.map((day) => `/api/plans/${planId}/crews/${day.crewId}/days/${day.date}/sheet.pdf`),
  ],
  headers,
} satisfies FromLoadServer);
