import { randomUUID } from "node:crypto";
import { describe, expect, it } from "vitest";
import type { MoveAnswer } from "../../../shared/contracts/moves.ts";
import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { CrewDayList, ListedPlan, PlanSummary, Publication, StoredPlan } from "../../../shared/contracts/plans.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import type { Lock } from "../../../shared/model/locks.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { planned } from "../../support/planned.ts";
import { richOperation } from "../../support/richOperation.ts";
import { serveApi } from "./serveApi.ts";

const { call, get, post, importOperation, storePlan, origin } = serveApi();

const rich = richOperation();
const planOfSeed = new Map([1, 2, 5].map((seed) => [seed, planned(rich, 100, { seed })] as const));

/** An operation of its own for each test, for publications are of operations. */
async function newPlan(): Promise<{ operation: Operation; stored: OperationSummary; plan: StoredPlan }> {
  const operation = { ...rich, settings: { ...rich.settings, name: `week ${randomUUID()}` } };
  const stored = (await importOperation(operation)).body.operation;
  return { operation, stored, plan: await planAgain(stored, 1) };
}

async function planAgain(stored: OperationSummary, seed: number): Promise<StoredPlan> {
  const plan = { ...planOfSeed.get(seed)!, operationName: stored.name };
  const id = await storePlan(
    stored,
    plan,
    checkPlan({ ...rich, settings: { ...rich.settings, name: stored.name } }, plan),
  );
  return (await get<StoredPlan>(`/api/plans/${id}`)).body;
}

const publish = <T>(planId: string, after: number, headers: Record<string, string> = {}) =>
  call<T>("POST", `/api/plans/${planId}/publish`, {
    body: JSON.stringify({ after, note: "go early" }),
    headers: { "content-type": "application/json", ...headers },
  });
const plansOf = async ({ id }: OperationSummary, query = "") =>
  (await get<{ plans: ListedPlan[]; next: string | null }>(`/api/plans?operationId=${id}${query}`)).body;

describe("plans of an operation", () => {
  it("are listed page by page, newest first, by state and origin, with what they come to", async () => {
    const { stored, plan } = await newPlan();
    const second = await planAgain(stored, 2);
    const moved = await post<MoveAnswer>(`/api/plans/${plan.id}/moves`, {
      moves: [{ blockId: worksOf(plan.plan.crewDays[0]!)[0]!.blockId, to: null }],
      keep: true,
    });
    const all = await plansOf(stored);
    expect(all.plans.map(({ id }) => id)).toEqual([moved.body.plan!.id, second.id, plan.id]);
    expect(all.next).toBeNull();
    const { totalCents, servedHa, orderedHa, roadKm, dutyMin } = plan.plan.score;
    expect(all.plans[2]).toMatchObject({
      state: "draft",
      origin: "planned",
      totals: { totalCents, servedHa, orderedHa, roadKm, dutyMin },
    });
    const pages: string[] = [];
    let cursor = "";
    for (;;) {
      const page = await plansOf(stored, `&limit=2${cursor}`);
      pages.push(...page.plans.map(({ id }) => id));
      if (page.next === null) break;
      cursor = `&cursor=${page.next}`;
    }
    expect(pages).toEqual(all.plans.map(({ id }) => id));
    expect((await plansOf(stored, "&origin=moved")).plans.map(({ parentId }) => parentId)).toEqual([plan.id]);
    await publish(plan.id, 0);
    await publish(second.id, 1);
    for (const [state, ids] of [
      ["published", [second.id]],
      ["superseded", [plan.id]],
      ["draft", [moved.body.plan!.id]],
    ] as const) {
      expect((await plansOf(stored, `&state=${state}`)).plans.map(({ id }) => id)).toEqual(ids);
    }
    expect((await get(`/api/plans?operationId=${stored.id}&cursor=bm90aGluZw`)).status).toBe(400);
    expect((await get("/api/plans")).status).toBe(400);
    // Cursors that nobody was handed.
    const cursor64 = (place: unknown) => Buffer.from(JSON.stringify(place)).toString("base64url");
    const far = cursor64({ createdUs: "9999999999999999", id: randomUUID() });
    expect((await plansOf(stored, `&cursor=${far}`)).plans).toHaveLength(3);
    for (const place of [{ createdUs: "99999999999999999", id: randomUUID() }, { createdUs: "soon", id: "1" }, null]) {
      expect((await get(`/api/plans?operationId=${stored.id}&cursor=${cursor64(place)}`)).status).toBe(400);
    }
    expect((await get(`/api/operations/${stored.id}/publications?cursor=${cursor64(1e300)}`)).status).toBe(400);
  });
});

describe("publishing", () => {
  it("tells crews, once for a call that is sent twice, and not over what somebody else has published meanwhile", async () => {
    const { stored, plan } = await newPlan();
    const other = await planAgain(stored, 2);
    const address = `/api/operations/${stored.id}`;
    expect((await get(`${address}/published`)).status).toBe(404);
    for (const body of [{}, { after: -1 }, { after: 0, note: "a\u0000b" }, { after: 0, note: "\ud800" }]) {
      expect((await post(`/api/plans/${plan.id}/publish`, body)).status).toBe(422);
    }
    const key = { "idempotency-key": randomUUID() };
    const first = await publish<Publication>(plan.id, 0, key);
    expect(first).toMatchObject({ status: 200, body: { number: 1, planId: plan.id, note: "go early" } });
    expect((await get<StoredPlan>(`/api/plans/${plan.id}`)).body.state).toBe("published");

    const beaten = await publish<Problem>(other.id, 0);
    expect(beaten.status).toBe(409);
    expect(beaten.body.detail).toContain("Publication 1 by everybody");
    expect((await publish<Publication>(other.id, 1)).body.number).toBe(2);
    // The first call, heard of late: it has happened, and is not made again.
    expect((await publish<Publication>(plan.id, 0, key)).body).toEqual(first.body);
    expect((await publish(other.id, 0, key)).status).toBe(422);

    const told = await get<{ publication: Publication; plan: PlanSummary }>(`${address}/published`);
    expect(told.body).toMatchObject({ publication: { number: 2 }, plan: { id: other.id, state: "published" } });
    const { publications } = (await get<{ publications: Publication[] }>(`${address}/publications`)).body;
    expect(publications.map(({ number }) => number)).toEqual([2, 1]);
    const page = (await get<{ publications: Publication[]; next: string }>(`${address}/publications?limit=1`)).body;
    const rest = await get<{ publications: Publication[] }>(`${address}/publications?limit=1&cursor=${page.next}`);
    expect(rest.body.publications).toEqual([first.body]);
    expect((await get(`${address}/published/week`)).body).toEqual((await get(`/api/plans/${other.id}/week`)).body);
  });

  it("is refused, with the breaches, when the plan does not hold under what the operation says now", async () => {
    const { operation, stored, plan } = await newPlan();
    const windless = operation.weather.map((step) => ({ ...step, windKph: 60, gustKph: 80 }));
    await importOperation({ ...operation, weather: windless });
    const refused = await publish<Problem>(plan.id, 0);
    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain("under version 2");
    expect(refused.body.breaches!.map(({ rule }) => rule)).toContain("wind");
    expect((await plansOf(stored)).plans[0]!.state).toBe("draft");
    expect(refused.body.detail).toMatch(/, the first: .*[^.]\. Plan again, or move what does not hold\.$/);
    await importOperation(operation);
    expect((await publish<Publication>(plan.id, 0)).body.number).toBe(1);
  });

  it("does not depend on what the plan costs, which is otherwise as soon as a price is", async () => {
    const { operation, plan } = await newPlan();
    const dearer = operation.orders.map((order) => ({ ...order, priceCentsPerHa: order.priceCentsPerHa + 100 }));
    const settings = { ...operation.settings, costs: { ...operation.settings.costs, driveCentsPerKm: 999 } };
    const now = { ...operation, settings, orders: dearer };
    expect(new Set(checkPlan(now, plan.plan).breaches.map(({ rule }) => rule))).toEqual(new Set(["score"]));
    await importOperation(now);
    expect((await publish<Publication>(plan.id, 0)).body.number).toBe(1);
  });
});

describe("a crew's days", () => {
  it("are those published, under a tag by which a phone sees that they have changed", async () => {
    const { stored, plan } = await newPlan();
    const { crewId, date } = plan.plan.crewDays[0]!;
    const address = `/api/operations/${stored.id}/crews/${crewId}/days`;
    expect((await get<CrewDayList>(address)).body).toEqual({ publication: null, days: [] });
    expect((await get(`${address}/${date}`)).status).toBe(404);
    expect((await get(address.replace(crewId, "nobody"))).status).toBe(404);
    await publish(plan.id, 0);

    const days = await get<CrewDayList>(address);
    const own = plan.plan.crewDays.filter((crewDay) => crewDay.crewId === crewId);
    expect(days.body.publication).toMatchObject({ number: 1, note: "go early" });
    expect(days.body.days.map((day) => [day.date, day.stops])).toEqual(
      own.map((crewDay) => [crewDay.date, worksOf(crewDay).length]),
    );
    const day = await get<{ publication: Publication; sheet: { date: string } }>(`${address}/${date}`);
    expect(day.body.sheet).toEqual((await get(`/api/plans/${plan.id}/crews/${crewId}/days/${date}`)).body);
    expect(JSON.stringify(day.body)).not.toMatch(/cents|price|cost/i);
    const atHome = await get<Problem>(`${address}/2029-01-01`);
    expect(atHome).toMatchObject({ status: 404, body: { detail: expect.stringContaining("does not go out") } });
    const etag = day.headers.get("etag")!;
    expect(etag).toMatch(/^"[\w-]+"$/);
    const same = await call("GET", `${address}/${date}`, { headers: { "if-none-match": etag } });
    expect(same.status).toBe(304);
    await publish((await planAgain(stored, 5)).id, 1);
    const later = await call("GET", `${address}/${date}`, { headers: { "if-none-match": etag } });
    // The other plan may leave the crew at home.
    expect([200, 404]).toContain(later.status);
    expect((await get<CrewDayList>(address)).body.publication!.number).toBe(2);
  });

  it("come compressed to whoever takes that, under a tag of its own", async () => {
    const { plan } = await newPlan();
    const read = (headers: Record<string, string>) => fetch(`${origin()}/api/plans/${plan.id}/week`, { headers });
    const [plain, gzipped] = [await read({ "accept-encoding": "identity" }), await read({ "accept-encoding": "gzip" })];
    expect(plain.headers.get("content-encoding")).toBeNull();
    expect(gzipped.headers.get("content-encoding")).toBe("gzip");
    expect(await gzipped.json()).toEqual(await plain.json());
    expect(gzipped.headers.get("etag")).not.toBe(plain.headers.get("etag"));
    expect(gzipped.headers.get("vary")).toContain("accept-encoding");
  });
});

describe("moving by hand", () => {
  it("tells what comes of it, keeps nothing unless told, and keeps it once", async () => {
    const { operation, stored, plan } = await newPlan();
    const crewDay = plan.plan.crewDays.find((one) => worksOf(one).length > 1)!;
    const { blockId } = worksOf(crewDay)[0]!;
    const moves = [{ blockId, to: null }];
    const address = `/api/plans/${plan.id}/moves`;
    const told = await post<MoveAnswer>(address, { moves });
    expect(told).toMatchObject({ status: 200, body: { allowed: true, why: [], plan: null } });
    expect(told.body.crewDays.map(({ crewId, date }) => [crewId, date])).toEqual([[crewDay.crewId, crewDay.date]]);
    expect((await plansOf(stored)).plans).toHaveLength(1);

    const key = { "idempotency-key": randomUUID(), "content-type": "application/json" };
    const keep = () => call<MoveAnswer>("POST", address, { body: JSON.stringify({ moves, keep: true }), headers: key });
    const kept = await keep();
    expect(kept.status).toBe(201);
    expect((await keep()).body.plan).toEqual(kept.body.plan);
    const draft = (await get<StoredPlan>(kept.headers.get("location")!)).body;
    expect(draft).toMatchObject({ origin: "moved", parentId: plan.id, state: "draft", version: plan.version });
    expect(checkPlan(operation, draft.plan).breaches).toEqual([]);
    expect(draft.plan.score.totalCents - plan.plan.score.totalCents).toBe(told.body.costCents);

    // And back again, from the draft.
    const to = { crewId: crewDay.crewId, date: crewDay.date, after: null };
    const back = await post<MoveAnswer>(`/api/plans/${draft.id}/moves`, { moves: [{ blockId, to }] });
    expect(back.body).toMatchObject({ allowed: true, costCents: -told.body.costCents! });
  });

  it("is refused in words where it does not go, and kept by nobody", async () => {
    const { stored, plan } = await newPlan();
    const { crewId, date } = plan.plan.crewDays[0]!;
    const other = plan.plan.crewDays.find((one) => one.crewId !== crewId)!;
    const moves = [{ blockId: worksOf(other)[0]!.blockId, to: { crewId, date: "2029-01-01" } }];
    const refused = await post<MoveAnswer>(`/api/plans/${plan.id}/moves`, { moves, keep: true });
    expect(refused).toMatchObject({ status: 200, body: { allowed: false, after: null, plan: null } });
    expect(refused.body.why).toEqual([expect.stringContaining("no shift on 2029-01-01")]);
    expect((await plansOf(stored)).plans).toHaveLength(1);
    for (const faulty of [{ moves: [] }, { moves: [...moves, ...moves] }, { moves: [{ blockId: "x", to: null }] }]) {
      expect((await post(`/api/plans/${plan.id}/moves`, faulty)).status).toBe(422);
    }
    expect(
      (await post(`/api/plans/${randomUUID()}/moves`, { moves: [{ blockId: "O-1#1", to: { crewId, date } }] })).status,
    ).toBe(404);
  });
});

describe("discarding", () => {
  it("is for drafts made by hand of which nothing else was made, as the caller has read them", async () => {
    const { stored, plan } = await newPlan();
    const move = async (planId: string, blockId: string) =>
      (await post<MoveAnswer>(`/api/plans/${planId}/moves`, { moves: [{ blockId, to: null }], keep: true })).body.plan!;
    const works = plan.plan.crewDays.flatMap(worksOf);
    const first = await move(plan.id, works[0]!.blockId);
    const second = await move(first.id, works[1]!.blockId);
    const etagOf = async (planId: string) => (await get(`/api/plans/${planId}`)).headers.get("etag")!;
    const discard = (planId: string, etag: string) =>
      call("DELETE", `/api/plans/${planId}`, { headers: { "if-match": etag } });
    expect((await call("DELETE", `/api/plans/${second.id}`, {})).status).toBe(428);
    expect((await discard(second.id, '"other"')).status).toBe(412);
    expect((await discard(plan.id, await etagOf(plan.id))).status).toBe(409);
    expect((await discard(first.id, await etagOf(first.id))).status).toBe(409);
    const draftTag = await etagOf(second.id);
    await publish(second.id, 0);
    // Published since it was read.
    expect((await discard(second.id, draftTag)).status).toBe(412);
    expect((await discard(second.id, await etagOf(second.id))).status).toBe(409);
    const third = await move(plan.id, works[1]!.blockId);
    expect((await discard(third.id, await etagOf(third.id))).status).toBe(204);
    expect((await get(`/api/plans/${third.id}`)).status).toBe(404);
    expect((await plansOf(stored)).plans.map(({ id }) => id)).not.toContain(third.id);
  });
});

describe("locking what a plan says", () => {
  interface Locked {
    readonly operation: OperationSummary;
    readonly lock: Lock | null;
    readonly check: { readonly ok: boolean; readonly breaches: readonly { readonly rule: string }[] };
  }

  it("makes a version of the operation under which the plan holds, and another when it is taken away", async () => {
    const { stored, plan } = await newPlan();
    const crewDay = plan.plan.crewDays.find((one) => worksOf(one).length > 1)!;
    const { crewId, date } = crewDay;
    const address = `/api/plans/${plan.id}/locks`;
    const lock = (what: string, version: number, more: object = {}) =>
      post<Locked>(address, { crewId, date, what, version, ...more });

    const [first, second] = worksOf(crewDay).map(({ blockId }) => blockId);
    const before = await post<MoveAnswer>(`/api/plans/${plan.id}/moves`, {
      moves: [{ blockId: second, to: null }],
      keep: true,
    });
    const stops = await lock("stops", 1, { blockIds: [first] });
    expect(stops).toMatchObject({ status: 200, body: { operation: { version: 2 }, check: { ok: true } } });
    expect(stops.body.lock!.stops.map(({ orderId, part }) => `${orderId}#${part}`)).toEqual([first]);
    expect(stops.body.lock!.stops[0]!.startAt).toBeUndefined();
    expect((await lock("outfit", 1)).status).toBe(412);
    // Sent again, it stands already.
    expect((await lock("stops", 1, { blockIds: [first] })).body.operation.version).toBe(2);
    const outfit = (await lock("outfit", 2)).body;
    expect(outfit.lock!.outfit!.tenderId).toBe(crewDay.outfit.tenderId);
    expect(outfit.lock!.stops).toEqual(stops.body.lock!.stops);
    expect((await lock("stops", 3)).body.lock!.stops).toHaveLength(worksOf(crewDay).length);
    const whole = await lock("asItStands", 4);
    expect(whole.body).toMatchObject({ operation: { version: 5 }, check: { ok: true }, lock: { nothingElse: true } });
    const { document } = (await get<{ document: Operation }>(`/api/operations/${stored.id}`)).body;
    expect(document.locks).toEqual([whole.body.lock]);

    // The plan is older than the lock and without that stop breaks it: a move does not take it out, and what had taken it out before is not published.
    const takeOut = () =>
      post<MoveAnswer>(`/api/plans/${plan.id}/moves`, { moves: [{ blockId: second, to: null }], keep: true });
    const held = await takeOut();
    expect(held).toMatchObject({ status: 200, body: { allowed: false, plan: null } });
    expect(held.body.breaches.map(({ rule }) => rule)).toContain("locked");
    const other = plan.plan.crewDays.flatMap((one) => (one === crewDay ? [] : worksOf(one)))[0]!;
    const elsewhere = { moves: [{ blockId: other.blockId, to: null }] };
    expect((await post<MoveAnswer>(`/api/plans/${plan.id}/moves`, elsewhere)).body.allowed).toBe(true);
    const refused = await publish<Problem>(before.body.plan!.id, 0);
    expect(refused.status).toBe(409);
    expect(refused.body.breaches!.map(({ rule }) => rule)).toContain("locked");
    const unlocked = await call<Locked>("DELETE", `${address}/${crewId}/${date}?version=5`, {});
    expect(unlocked.body).toMatchObject({ operation: { version: 6 }, lock: null, check: { ok: true } });
    const out = await takeOut();
    expect((await publish(out.body.plan!.id, 0)).status).toBe(200);
  });

  it("is refused where it names no stop of the day, and where another day has the block locked", async () => {
    const { operation, plan } = await newPlan();
    const [one, other] = plan.plan.crewDays;
    const { crewId, date } = one!;
    const address = `/api/plans/${plan.id}/locks`;
    const [block] = worksOf(other!);
    const wrong = { crewId, date, what: "stops", version: 1, blockIds: [block!.blockId] };
    expect((await post(address, wrong)).status).toBe(409);
    expect((await post(address, { ...wrong, what: "outfit" })).status).toBe(422);
    expect((await post(address, { crewId, date: "2029-01-01", what: "outfit", version: 1 })).status).toBe(404);
    const { orderId } = plan.plan.blocks.find(({ id }) => id === worksOf(one!)[0]!.blockId)!;
    const elsewhere = { crewId: other!.crewId, date: other!.date, stops: [{ orderId }] };
    await importOperation({ ...operation, locks: [elsewhere] });
    const refused = await post<Problem>(address, { crewId, date, what: "stops", version: 2 });
    expect(refused.status).toBe(422);
    expect(refused.body.faults!.length).toBeGreaterThan(0);
  });
});
