import { randomUUID } from "node:crypto";
import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import type { MoveAnswer } from "../../../shared/contracts/moves.ts";
import type { PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { PlanSummary, StoredPlan } from "../../../shared/contracts/plans.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import { addDays, createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import type { PlanDifference } from "../../../shared/replan/difference.ts";
import { serveApi } from "./serveApi.ts";

const { call, get, importOperation, post } = serveApi();

type Difference = PlanDifference & { planId: string; beforePlanId: string; remarks: { sentence: string }[] };

const week = generateOperation({ orders: 10, crews: 2, days: 2, seed: 5 });
const operationNamed = (name: string): Operation => ({ ...week, settings: { ...week.settings, name } });

async function ended(request: PlanRequest): Promise<PlanRequest> {
  for (let tries = 0; tries < 600; tries++) {
    const { body } = await get<PlanRequest>(`/api/plan-requests/${request.id}`);
    if (body.status !== "queued" && body.status !== "running") return body;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error("the request did not end");
}

async function plannedOf(path: string, body: object): Promise<StoredPlan> {
  const asked = await post<PlanRequest>(path, body);
  expect(asked.status, JSON.stringify(asked.body)).toBe(202);
  const request = await ended(asked.body);
  expect(request.failure).toBeNull();
  expect(request.status).toBe("done");
  expect((await get<{ ok: boolean }>(`/api/plans/${request.planId}/check`)).body.ok).toBe(true);
  return (await get<StoredPlan>(`/api/plans/${request.planId}`)).body;
}

const publish = (planId: string, after: number) =>
  post<{ number: number }>(`/api/plans/${planId}/publish`, { after, note: "" });

describe("planning again over HTTP", () => {
  it("keeps what is done and under way, plans what is left, and tells the difference; twice", async () => {
    const operation = operationNamed("Planned again");
    const { id } = (await importOperation(operation)).body.operation;
    const first = await plannedOf(`/api/operations/${id}/plans`, { iterations: 30 });
    expect((await publish(first.id, 0)).status).toBe(200);

    const calendar = createCalendar(operation.settings);
    const stops = first.plan.crewDays
      .flatMap((crewDay) => worksOf(crewDay).map((work) => ({ crewDay, work })))
      .toSorted((a, b) => a.work.startMin - b.work.startMin);
    const [done, halved] = stops as [(typeof stops)[number], (typeof stops)[number]];
    const blockOf = (blockId: string) => first.plan.blocks.find((block) => block.id === blockId)!;
    const iso = (min: number) => new Date(calendar.epochMsOfMin(min)).toISOString();
    const report = async ({ crewDay, work }: typeof done, kind: string, min: number, more: object = {}) => {
      const one = { id: randomUUID(), publication: 1, at: iso(min), blockId: work.blockId, kind, ...more };
      const path = `/api/operations/${id}/crews/${crewDay.crewId}/days/${crewDay.date}/reports`;
      const { body } = await post<{ reports: { outcome: string }[] }>(path, { reports: [one] });
      expect(body.reports.map(({ outcome }) => outcome)).toEqual(["stored"]);
    };
    await report(done, "started", done.work.startMin);
    await report(done, "finished", done.work.endMin, { doneHa: blockOf(done.work.blockId).areaHa });
    const halfHa = blockOf(halved.work.blockId).areaHa / 2;
    await report(halved, "started", halved.work.startMin);
    await report(halved, "stopped", halved.work.endMin, { reason: "wind", doneHa: halfHa });

    const nowMin = Math.max(done.work.endMin, halved.work.endMin) + 1;
    const asOf = calendar.isoOfMin(nowMin).slice(0, "2027-06-07T05:30".length);
    const again = await plannedOf(`/api/operations/${id}/replans`, { asOf, iterations: 20 });
    expect(again).toMatchObject({ origin: "replanned", state: "draft" });
    expect(again.version).toBeGreaterThan(first.version);

    const { body: difference, status } = await get<Difference>(`/api/plans/${again.id}/difference`);
    expect(status).toBe(200);
    expect(difference).toMatchObject({ planId: again.id, beforePlanId: first.id });
    const { kept, moved, dropped, done: over } = difference.counts;
    const days = new Set(again.plan.days === 0 ? [] : createCalendar(again.plan).dates);
    expect(kept + moved + dropped + over).toBe(stops.filter(({ crewDay }) => days.has(crewDay.date)).length);
    const ofHalved = again.plan.blocks.filter(({ orderId }) => orderId === blockOf(halved.work.blockId).orderId);
    const leftHa = ofHalved.reduce((sum, { areaHa }) => sum + areaHa, 0);
    const wholeHa = first.plan.blocks
      .filter(({ orderId }) => orderId === blockOf(halved.work.blockId).orderId)
      .reduce((sum, { areaHa }) => sum + areaHa, 0);
    expect(leftHa).toBeLessThan(wholeHa - 0.8 * halfHa);
    expect(difference.remarks.length).toBeGreaterThan(0);
    // The request keeps what held before anything was searched for.
    const request = (await get<PlanRequest>(`/api/plan-requests/${again.id}`)).body;
    expect(request).toMatchObject({ kind: "replan", fromPlanId: first.id });

    // The latest version is still the one that people have told, and the plan made again can be published under it.
    expect((await publish(again.id, 1)).status).toBe(200);
    const later = await plannedOf(`/api/operations/${id}/replans`, { asOf, iterations: 0, changeCost: "high" });
    const second = (await get<Difference>(`/api/plans/${later.id}/difference`)).body;
    expect(second.beforePlanId).toBe(again.id);
    expect(second.changes.filter(({ kind }) => kind !== "done")).toEqual([]);
    const withFirst = await get<Difference>(`/api/plans/${later.id}/difference?to=${first.id}`);
    expect(withFirst.body.beforePlanId).toBe(first.id);
    const { document } = (await get<{ document: Operation }>(`/api/operations/${id}/versions/${later.version}`)).body;
    expect(document.settings.planning.changeStartCents).toBe(5 * operation.settings.planning.changeStartCents);
  }, 120_000);

  it("is refused where there is nothing to stay near, or no day left; sent twice with one key it is asked for once", async () => {
    const operation = operationNamed("Not published");
    const { id } = (await importOperation(operation)).body.operation;
    const none = await post<Problem>(`/api/operations/${id}/replans`, {});
    expect(none.status).toBe(409);
    const plan = await plannedOf(`/api/operations/${id}/plans`, { iterations: 0 });
    const key = randomUUID();
    const send = () =>
      call<PlanRequest>("POST", `/api/operations/${id}/replans`, {
        body: JSON.stringify({ fromPlanId: plan.id, iterations: 0 }),
        headers: { "content-type": "application/json", "idempotency-key": key },
      });
    const [one, other] = [await send(), await send()];
    expect(one.status).toBe(202);
    expect(other.body.id).toBe(one.body.id);
    const { firstDay, days } = operation.settings;
    const over = await post<Problem>(`/api/operations/${id}/replans`, {
      fromPlanId: plan.id,
      asOf: `${addDays(firstDay, days)}T00:00`,
    });
    expect(over.status).toBe(422);
    expect((await post(`/api/operations/${id}/replans`, { fromPlanId: randomUUID() })).status).toBe(404);
    expect((await post(`/api/operations/${randomUUID()}/replans`, {})).status).toBe(404);
    expect((await get(`/api/plans/${randomUUID()}/difference`)).status).toBe(404);
    expect((await get(`/api/plans/${plan.id}/difference`)).status).toBe(409);

    // Stops are moved to the beginning of their day until one goes.
    const lasts = plan.plan.crewDays.flatMap((crewDay) => {
      const works = worksOf(crewDay);
      const to = { crewId: crewDay.crewId, date: crewDay.date, after: null };
      return works.slice(1).map(({ blockId }) => ({ blockId, to }));
    });
    let moved: PlanSummary | null = null;
    for (const move of lasts) {
      const answer = await post<MoveAnswer>(`/api/plans/${plan.id}/moves`, { moves: [move], keep: true });
      moved ??= answer.body.plan;
    }
    const { changes } = (await get<Difference>(`/api/plans/${moved!.id}/difference?to=${plan.id}`)).body;
    const reasons = changes.map(({ reason }) => reason);
    expect(reasons).toContain("byHand");
    expect(reasons).not.toContain("saves");
  });
});
