import { randomUUID } from "node:crypto";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createApp } from "../../../services/api/app.ts";
import { type Listening, listen } from "../../../services/api/listen.ts";
import { createMover } from "../../../services/moves/mover.ts";
import { partId } from "../../../services/queue/pieces.ts";
import type { Piece, WorkQueue } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import type { Store } from "../../../services/store/store.ts";
import { createViewMaker } from "../../../services/views/viewMaker.ts";
import type { DeadLetter } from "../../../shared/contracts/deadLetters.ts";
import { access, acting, everybody, madeBy } from "../../support/acting.ts";
import { openApiJudge } from "../../support/openApiJudge.ts";
import { smallOperation } from "../../support/operation.ts";
import { startTestDatabase, temporaryFolder } from "../../support/servers.ts";

interface Page {
  readonly deadLetters: DeadLetter[];
  readonly next: string | null;
}

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let store: Store;
let api: Listening;
let judge: ReturnType<typeof openApiJudge>;
let operationId: string;
let added: Piece[] = [];
const page = temporaryFolder();
const errors: unknown[] = [];
/** No worker is there, so that nothing happens but what is asked for. */
const queue = { addInTurn: async (pieces: readonly Piece[]) => void added.push(...pieces) } as WorkQueue;

beforeAll(async () => {
  database = await startTestDatabase();
  store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: () => undefined });
  operationId = (await store.importOperation(smallOperation({}), acting)).operation.id;
  const onError = (error: unknown) => errors.push(error);
  const authenticate = async () => ({ status: "known", actor: everybody }) as const;
  const mover = createMover({ onError });
  const maker = createViewMaker({ onError });
  const app = createApp({
    store,
    queue,
    runs: queue,
    mover,
    maker,
    access,
    onError,
    authenticate,
    pageFolder: page.folder,
  });
  const bound = await listen(app, { host: "127.0.0.1", port: 18_380, orNext: true });
  if (bound.status !== "listening") throw new Error("no free port");
  api = bound.api;
  const document = await fetch(`http://127.0.0.1:${api.port}/api/openapi.json`);
  judge = openApiJudge((await document.json()) as Record<string, unknown>);
});
afterAll(async () => {
  await api.close();
  await store.close();
  await database.stop();
  page.remove();
  expect(errors).toEqual([]);
});

async function call<T>(method: "GET" | "POST", path: string, headers: Record<string, string> = {}) {
  const response = await fetch(`http://127.0.0.1:${api.port}${path}`, { method, headers });
  const text = await response.text();
  judge(method, path, response, text);
  return { status: response.status, headers: response.headers, body: (text === "" ? null : JSON.parse(text)) as T };
}
const list = async (query = "") => (await call<Page>("GET", `/api/dead-letters${query}`)).body;
const ids = async (query = "") => (await list(query)).deadLetters.map(({ id }) => id);
const dismiss = async (id: string) => (await call("POST", `/api/dead-letters/${id}/dismiss`)).status;
const again = (id: string, key: string) =>
  call<{ id: string }>("POST", `/api/dead-letters/${id}/again`, { "idempotency-key": key });

/** As if its planner had had a bug that is mended now. */
async function failedRequest(): Promise<string> {
  const asked = { operationId, version: 1, budget: { iterations: 5 }, seed: 1 };
  const { id } = await madeBy(store.addPlanRequest(asked, acting));
  await store.startRequest(id);
  const failure = { kind: "plannerFailed" as const, message: "a bug in the planner", breaches: [] };
  await store.finishRequest(id, { status: "failed", failure });
  return id;
}

/** Two runs; those named have failed, and the study with them when it is told to. */
async function study(failed: readonly number[], asWhole: boolean): Promise<string> {
  const parts = [{ number: 0 }, { number: 1 }];
  const { id } = await madeBy(store.addStudy({ kind: "cases", operationId, version: 1, ask: {}, parts }, acting));
  for (const part of [0, 1]) {
    await store.startPart({ studyId: id, part });
    const failure = { kind: "crashed" as const, message: "a bug in a run" };
    const outcome = failed.includes(part)
      ? ({ status: "failed", failure } as const)
      : ({ status: "done", result: 1 } as const);
    await store.finishPart({ studyId: id, part }, outcome);
  }
  const failure = { kind: "partFailed" as const, message: "a run was needed", part: 1 };
  await store.concludeStudy(id, asWhole ? { status: "failed", failure } : { status: "done", result: "without it" });
  return id;
}

describe("dead letters", { timeout: 60_000 }, () => {
  it("tell what has failed for good, of what, why and how often it was begun, newest first, in pages and by kind", async () => {
    const plan = await failedRequest();
    const whole = await study([1], true);
    const some = await study([0], false);
    const { deadLetters } = await list();
    expect(deadLetters).toMatchObject([
      { id: `${some}.0`, kind: "run", studyKind: "cases", failure: { kind: "crashed" }, starts: 1 },
      { id: whole, kind: "study", failure: { kind: "partFailed", message: "a run was needed" }, starts: 1 },
      {
        id: plan,
        kind: "plan",
        studyKind: null,
        failure: { message: "a bug in the planner" },
        version: 1,
        operationId,
      },
    ]);
    expect(deadLetters[2]!.operationName).toBe(smallOperation({}).settings.name);
    expect(await ids("?kind=plan")).toEqual([plan]);
    const first = await list("?limit=2");
    expect(first.deadLetters.map(({ id }) => id)).toEqual([`${some}.0`, whole]);
    expect(await list(`?limit=2&cursor=${first.next}`)).toMatchObject({ deadLetters: [{ id: plan }], next: null });
    expect((await call("GET", "/api/dead-letters?cursor=bm8")).status).toBe(400);
    for (const id of await ids()) expect(await dismiss(id)).toBe(204);
    expect(await ids()).toEqual([]);
  });

  it("are worked again when it is asked for, once however often the call is sent", async () => {
    const id = await failedRequest();
    const key = randomUUID();
    added = [];
    const told = [await again(id, key), await again(id, key)];
    expect(told.map(({ status }) => status)).toEqual([202, 202]);
    expect(told[0]!.headers.get("location")).toBe(`/api/plan-requests/${id}`);
    expect(added).toContainEqual({ id, turn: 1 });
    expect(await ids()).toEqual([]);
    expect((await again(id, randomUUID())).status).toBe(409);
    expect(await store.planRequest(id)).toMatchObject({ status: "queued", failure: null, endedAt: null });
    expect(await store.startRequest(id)).toMatchObject({ status: "go", start: 1 });
    await store.finishRequest(id, { status: "cancelled", best: null });
    // The call that was sent before still counts once.
    expect((await again(id, key)).status).toBe(202);
    expect(await store.planRequest(id)).toMatchObject({ status: "cancelled" });
    expect((await again("nothing", key)).status).toBe(404);
  });

  it("of a study put back its failed runs alone, with their starts at nothing, and it is concluded anew", async () => {
    for (const asWhole of [true, false]) {
      const studyId = await study([1], asWhole);
      const id = asWhole ? studyId : `${studyId}.1`;
      added = [];
      const { status, body, headers } = await again(id, randomUUID());
      expect([status, body]).toEqual([202, { id, kind: asWhole ? "study" : "run" }]);
      expect(headers.get("location")).toBe(`/api/studies/${studyId}`);
      expect(added.map((piece) => piece.id)).toEqual([partId({ studyId, part: 1 })]);
      expect(await store.study(studyId)).toMatchObject({
        result: null,
        failure: null,
        progress: { ended: 1, failed: 0 },
      });
      expect((await store.turnsOf(studyId)).map(({ part }) => part)).toEqual([1]);
      expect(await store.startPart({ studyId, part: 1 })).toMatchObject({ status: "go", start: 1 });
      await store.finishPart({ studyId, part: 1 }, { status: "done", result: 2 });
      expect((await store.studyToConclude(studyId))!.parts.map(({ status }) => status)).toEqual(["done", "done"]);
      expect(await store.concludeStudy(studyId, { status: "done", result: "with it" })).toBe(true);
      expect((await again(id, randomUUID())).status).toBe(409);
    }
  });

  it("are laid aside once, and what is none is told", async () => {
    const id = await failedRequest();
    expect([await dismiss(id), await dismiss(id)]).toEqual([204, 404]);
    for (const unknown of [randomUUID(), `${randomUUID()}.3`, "nothing"]) expect(await dismiss(unknown)).toBe(404);
    expect(await store.planRequest(id)).toMatchObject({ status: "failed" });
  });
});
