import { randomUUID } from "node:crypto";
import { describe, expect, it } from "vitest";
import type { ApplicationRecord } from "../../../shared/contracts/applicationRecords.ts";
import { clockFinding } from "../../../shared/done/findings.ts";
import type { Progress } from "../../../shared/done/progress.ts";
import type { KeptReport } from "../../../shared/done/workReport.ts";
import { publishedPlan, publishedView } from "../../support/publishedView.ts";
import { addressOf, at, blockId, dayOf, fieldCalls, measured, report, started } from "./fieldCalls.ts";
import { serveApi } from "./serveApi.ts";

const { call, get, origin, post, store } = serveApi();
const { list, put, send } = fieldCalls({ call, get, post });
const outcomes = async (sent: ReturnType<typeof send>) => (await sent).body.reports.map(({ outcome }) => outcome);
const progressOf = async (operationId: string) =>
  (await get<Progress & { publication: number }>(`/api/operations/${operationId}/progress`)).body;
const stateOf = async (operationId: string) =>
  (await progressOf(operationId)).stops.find((stop) => stop.blockId === blockId)?.state;

describe("reports from a phone", () => {
  it("are each judged by themselves; what is sent twice counts once", async () => {
    const { operationId } = await publishedView(store());
    const good = started();
    const sent = [
      good,
      { ...started(), kind: "landed" },
      { ...started(), publication: 7 },
      { ...started(), blockId: "O-2#1" },
      { ...started(), at: "2027-02-30T06:00:00Z" },
      "not a report",
      { ...started(), words: "\u0000" },
      good,
      { ...good, kind: "arrived" },
      report(60, { kind: "finished", doneHa: 12 }),
    ];
    const { body, status } = await send(operationId, sent);
    expect(status).toBe(200);
    expect(body.reports.map(({ outcome }) => outcome)).toEqual([
      "stored",
      "refused",
      "refused",
      "refused",
      "refused",
      "refused",
      "refused",
      "known",
      "refused",
      "stored",
    ]);
    expect(body.reports[1]).toMatchObject({ id: (sent[1] as { id: string }).id, faults: [{ path: ["kind"] }] });
    expect(body.reports[2]?.why).toBe("No plan was published as number 7.");
    expect(body.reports[3]?.why).toBe("The plan published as number 1 has no stop at O-2#1 for crew K1 on 2027-03-26.");
    expect(body.reports[5]?.id).toBeNull();
    expect(await stateOf(operationId)).toBe("finished");
    expect(await outcomes(send(operationId, [good]))).toEqual(["known"]);
  });

  it("are read page by page in the order in which they came in", async () => {
    const { operationId } = await publishedView(store());
    const loads = Array.from({ length: 5 }, (_, load) => report(10 * (5 - load), { kind: "loadDone" }));
    for (const load of loads) await send(operationId, [load]);
    const told: string[] = [];
    let next: string | null = "";
    let pages = 0;
    while (next !== null) {
      const cursor: string = next === "" ? "" : `&cursor=${next}`;
      const page = (await get<{ reports: KeptReport[]; next: string | null }>(
        `${dayOf(operationId)}/reports?limit=2${cursor}`,
      )) as { body: { reports: KeptReport[]; next: string | null } };
      told.push(...page.body.reports.map((one) => one.report.id));
      next = page.body.next;
      pages += 1;
    }
    expect(told).toEqual(loads.map(({ id }) => id));
    expect(pages).toBe(3);
    expect((await get(`${dayOf(operationId)}/reports?cursor=nonsense`)).status).toBe(400);
  });

  it("are refused whole where they are too many or none, or the operation is not there", async () => {
    const { operationId } = await publishedView(store());
    expect((await send(operationId, [])).status).toBe(422);
    expect((await send(operationId, Array.from({ length: 201 }, started))).status).toBe(422);
    expect((await send(randomUUID(), [started()])).status).toBe(404);
    expect((await get(`/api/operations/${randomUUID()}/progress`)).status).toBe(404);
  });

  it("count for the plan that is published now, where the ground is the same", async () => {
    const { operationId, plan } = await publishedView(store());
    await send(operationId, [started()]);
    const [first, ...others] = plan.blocks;
    await publishedPlan(store(), operationId, plan, 1);
    expect(await progressOf(operationId)).toMatchObject({ publication: 2 });
    expect(await stateOf(operationId)).toBe("running");
    const smaller = { ...plan, blocks: [{ ...first!, areaHa: 11 }, ...others] };
    await publishedPlan(store(), operationId, smaller, 2);
    expect(await stateOf(operationId)).toBe("notBegun");
    // The phone has not heard of the new plan yet.
    await send(operationId, [report(60, { kind: "finished", doneHa: 12 })]);
    expect(await stateOf(operationId)).toBe("notBegun");
    const { remarks } = await progressOf(operationId);
    expect(remarks.map(({ kind }) => kind).filter((kind) => kind !== "clockAhead")).toEqual(["notInPlan"]);
  });

  it("are seen at once by whoever follows", async () => {
    const { operationId } = await publishedView(store());
    const leave = new AbortController();
    const response = await fetch(`${origin()}/api/operations/${operationId}/progress/events`, {
      signal: leave.signal,
    });
    expect(response.headers.get("content-type")).toMatch(/^text\/event-stream/);
    const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
    let text = "";
    const states = () =>
      [...text.matchAll(/^event: progress\ndata: (.*)$/gm)].map(
        ([, data]) => (JSON.parse(data!) as Progress).stops[0]!.state,
      );
    const until = async (count: number) => {
      while (states().length < count) text += (await reader.read()).value ?? "";
    };
    await until(1);
    await send(operationId, [started()]);
    await until(2);
    await send(operationId, [report(60, { kind: "finished", doneHa: 12 })]);
    await until(3);
    expect(states()).toEqual(["notBegun", "running", "finished"]);
    leave.abort();
  });

  it("tell a crew how far its own day has come", async () => {
    const { operationId } = await publishedView(store());
    await send(operationId, [started(), report(10, { kind: "started" })]);
    const { body } = await get<Progress>(`${dayOf(operationId)}/progress`);
    expect(body.stops.map((stop) => stop.blockId)).toEqual([blockId]);
    expect(body.remarks.some(({ kind }) => kind === "startedTwice")).toBe(true);
    expect((await get<Progress>(`${dayOf(operationId, "K2")}/progress`)).body).toMatchObject({
      stops: [],
      remarks: [],
    });
  });
});

describe("records of applications", () => {
  it("are made of an end, and told with what is missing and what was measured", async () => {
    const { operationId } = await publishedView(store());
    await send(operationId, [started()]);
    expect(await list(operationId)).toEqual([]);
    await send(operationId, [measured(14), report(60, { kind: "finished", doneHa: 11.9 })]);
    const [record, ...more] = await list(operationId);
    expect(more).toEqual([]);
    expect(record).toMatchObject({
      version: 1,
      complete: false,
      record: { state: "finished", blockId, grower: "Grower One", treatedHa: 11.9, startedAt: at(0), endedAt: at(60) },
    });
    // 1 L/ha and 0.2 L/ha on 11.9 ha.
    expect(record!.record.products.map(({ amount, amountFrom }) => [amount.toFixed(3), amountFrom])).toEqual([
      ["11.900", "order"],
      ["2.380", "order"],
    ]);
    // The second product's label allows 12 km/h.
    // By today's clock all this may still be to come.
    expect(record!.findings.filter((finding) => finding !== clockFinding)).toEqual([
      `At 07:27 wind of 14 km/h was measured; at most 12 km/h is allowed by label of Second Liquid.`,
    ]);
    expect(record!.missing.map(({ field, rule }) => `${rule} ${field}`)).toEqual([
      "us growerAddress",
      "us applicators.certificationNumber",
      "eu landId",
      "eu eppoCode",
    ]);
    expect((await get<ApplicationRecord>(addressOf(record!))).headers.get("etag")).toBe('"1"');
    expect((await get(addressOf(record!).replace("/K1/", "/K2/"))).status).toBe(404);
  });

  it("are completed by a person; earlier versions stay, and stale writes are refused", async () => {
    const { operationId } = await publishedView(store());
    await send(operationId, [started(), measured(8), report(60, { kind: "finished", doneHa: 12 })]);
    const [record] = await list(operationId);
    const byHand = {
      growerAddress: "1 Mill Lane",
      landId: "DE-1",
      eppoCode: "TRZAW",
      applicators: [{ name: "Pilot One", certificationNumber: "C-1" }],
    };
    expect((await put(record!, null, { byHand, reason: "papers" })).status).toBe(428);
    const changed = await put(record!, '"1"', { byHand, reason: "papers" });
    expect(changed.status).toBe(200);
    expect(changed.headers.get("etag")).toBe('"2"');
    expect(changed.body).toMatchObject({
      version: 2,
      complete: true,
      missing: [],
      byHand,
      reason: "papers",
    });
    expect(changed.body.origins.find(({ field }) => field === "landId")?.from).toBe("person");
    expect((await put(record!, '"1"', { byHand: {}, reason: "late" })).status).toBe(412);
    const other = { byHand: { products: [{ productId: "GRA", amount: 1 }] }, reason: "other" };
    expect((await put(record!, '"2"', other)).status).toBe(422);
    expect((await get<ApplicationRecord>(`${addressOf(record!)}/versions/1`)).body).toEqual(record);
    expect((await get(`${addressOf(record!)}/versions/3`)).status).toBe(404);

    // What is reported later goes under what the person has said.
    await send(operationId, [report(61, { kind: "finished", doneHa: 11.8, used: [{ productId: "LIQ", amount: 13 }] })]);
    expect(await list(operationId)).toMatchObject([
      { version: 3, complete: true, reason: "reported", byHand, record: { treatedHa: 11.8, landId: "DE-1" } },
    ]);
  });

  it("are not made anew by what is sent again, and are withdrawn, not deleted", async () => {
    const { operationId } = await publishedView(store());
    const batch = [started(), report(60, { kind: "finished", doneHa: 12 })];
    await send(operationId, batch);
    await send(operationId, batch);
    await send(operationId, [report(70, { kind: "arrived" })]);
    expect(await list(operationId)).toMatchObject([{ version: 1 }]);
    const { blockId: _, ...correction } = report(80, { kind: "correction", withdraws: batch[1]!.id });
    await send(operationId, [correction]);
    expect(await list(operationId)).toMatchObject([{ version: 2, record: { state: "withdrawn" } }]);
  });

  it("are found by field, grower, product, order, crew and dates", async () => {
    const { operationId } = await publishedView(store());
    await send(operationId, [started(), report(60, { kind: "finished", doneHa: 12 })]);
    const found = [
      "fieldId=F1",
      "grower=Grower%20One",
      "productId=LIQ2",
      "orderId=O-1",
      "crewId=K1",
      "from=2027-03-26&to=2027-03-26",
    ];
    for (const query of found) expect(await list(operationId, `?${query}`), query).toHaveLength(1);
    const not = [
      "fieldId=F2",
      "grower=Grower%20Two",
      "productId=GRA",
      "orderId=O-2",
      "crewId=K2",
      "from=2027-03-27",
      "to=2027-03-25",
    ];
    for (const query of not) expect(await list(operationId, `?${query}`), query).toEqual([]);
    const own = await get<{ applicationRecords: unknown[] }>(
      `/api/operations/${operationId}/crews/K2/application-records`,
    );
    expect(own.body.applicationRecords).toEqual([]);
  });

  it("are read page by page, by date", async () => {
    const { operationId } = await publishedView(store());
    const sunday = { at: "2027-03-28T05:00:00Z", doneHa: 1 };
    await send(operationId, [report(60, { kind: "finished", doneHa: 12 })]);
    for (const [crewId, block] of [
      ["K1", "O-1#2"],
      ["K2", "O-2#1"],
    ]) {
      const reports = [{ ...report(0, { kind: "stopped", reason: "wind" }), ...sunday, blockId: block }];
      await post(`/api/operations/${operationId}/crews/${crewId}/days/2027-03-28/reports`, { reports });
    }
    const whole = await list(operationId);
    expect(whole.map(({ record }) => record.date)).toEqual(["2027-03-26", "2027-03-28", "2027-03-28"]);
    const told: ApplicationRecord[] = [];
    let cursor: string | null = "";
    while (cursor !== null) {
      const page: { applicationRecords: ApplicationRecord[]; next: string | null } = (
        await get<{ applicationRecords: ApplicationRecord[]; next: string | null }>(
          `/api/operations/${operationId}/application-records?limit=1${cursor === "" ? "" : `&cursor=${cursor}`}`,
        )
      ).body;
      expect(page.applicationRecords).toHaveLength(1);
      told.push(...page.applicationRecords);
      cursor = page.next;
    }
    expect(told).toEqual(whole);
  });

  it("are changed by one of several who have read the same", async () => {
    const { operationId } = await publishedView(store());
    await send(operationId, [started(), report(60, { kind: "finished", doneHa: 12 })]);
    const [record] = await list(operationId);
    const landIds = ["a", "b", "c", "d", "e"];
    const changes = landIds.map((landId) => put(record!, '"1"', { byHand: { landId }, reason: "at once" }));
    const statuses = (await Promise.all(changes)).map(({ status }) => status);
    expect(statuses.sort()).toEqual([200, 412, 412, 412, 412]);
    const [after] = await list(operationId);
    expect(after!.version).toBe(2);
    expect(landIds).toContain(after!.record.landId);
  });
});
