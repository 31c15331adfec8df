import { randomUUID } from "node:crypto";
import pg from "pg";
import { afterAll, beforeAll, expect, it } from "vitest";
import { connectStore } from "../../../services/store/connect.ts";
import type { Store } from "../../../services/store/store.ts";
import type { NewReport } from "../../../services/store/workReports.ts";
import { groundOf } from "../../../shared/done/ground.ts";
import { workReportSchema } from "../../../shared/done/workReport.ts";
import { acting } from "../../support/acting.ts";
import { publishedView } from "../../support/publishedView.ts";
import { startTestDatabase } from "../../support/servers.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let store: Store;
beforeAll(async () => {
  database = await startTestDatabase();
  store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: () => undefined });
});
afterAll(async () => {
  await store.close();
  await database.stop();
});

const plan = viewPlan(viewOperation());
const published = () => publishedView(store);

const newReport = (planId: string, report: object): NewReport => ({
  report: workReportSchema.parse({
    id: randomUUID(),
    publication: 1,
    blockId: "O-1#1",
    at: "2027-03-26T06:22:00.000Z",
    ...report,
  }),
  planId,
  ground: groundOf(plan.blocks[0]!),
});

it("reports are kept once each, and progress is made of them", async () => {
  const { operationId, planId } = await published();
  const day = { operationId, crewId: "K1", date: "2027-03-26" };
  const started = newReport(planId, { kind: "started" });
  const finished = newReport(planId, { kind: "finished", doneHa: 12, at: "2027-03-26T08:22:00+01:00" });
  let notices = 0;
  const stopWatching = store.watch(operationId, () => notices++);
  expect(await store.addReports(day, [finished, finished], acting)).toEqual(["stored", "known"]);
  expect(await store.addReports(day, [started, finished], acting)).toEqual(["stored", "known"]);
  const other = { ...started, report: { ...started.report, at: "2027-03-26T06:23:00.000Z" } };
  expect(await store.addReports(day, [other], acting)).toEqual(["otherReport"]);
  expect(await store.addReports({ ...day, date: "2027-03-27" }, [started], acting)).toEqual(["otherReport"]);
  await expect.poll(() => notices).toBeGreaterThan(0);
  stopWatching();

  const [first, second, ...more] = await store.reportsOfDay(day, { most: 10, after: null });
  expect([first?.kept.report, second?.kept.report, ...more]).toEqual([finished.report, started.report]);
  expect((await store.reportsOfDay(day, { most: 10, after: first!.place })).map(({ kept }) => kept)).toEqual([
    second!.kept,
  ]);
  expect(await store.progressOf(planId)).toMatchObject([
    {
      blockId: "O-1#1",
      state: "finished",
      startedAt: "2027-03-26T06:22:00.000Z",
      endedAt: "2027-03-26T07:22:00.000Z",
      doneHa: 12,
    },
    { blockId: "O-1#2", state: "notBegun" },
    { blockId: "O-2#1", state: "notBegun" },
  ]);
  // By today's clock all this may still be to come.
  const remarks = (await store.progress(planId))?.remarks.filter(({ kind }) => kind !== "clockAhead");
  expect(remarks).toEqual([]);
  expect(await store.progress(randomUUID())).toBeNull();
  expect(await store.planOfPublication(operationId, 1)).toMatchObject({ id: planId });
  expect(await store.planOfPublication(operationId, 2)).toBeNull();
});

it("of phones that send the same at the same moment each report is kept once", async () => {
  const { operationId, planId } = await published();
  const day = { operationId, crewId: "K1", date: "2027-03-26" };
  const batch = Array.from({ length: 20 }, () => newReport(planId, { kind: "loadDone" }));
  const outcomes = await Promise.all(
    Array.from({ length: 5 }, (_, phone) =>
      store.addReports(day, [...batch.slice(phone * 4), ...batch.slice(0, phone * 4)], acting),
    ),
  );
  expect(outcomes.flat().filter((outcome) => outcome === "stored")).toHaveLength(20);
  expect(await store.reportsOfDay(day, { most: 100, after: null })).toHaveLength(20);
});

it("what was reported is neither changed nor taken away", async () => {
  const { operationId, planId } = await published();
  await store.addReports(
    { operationId, crewId: "K1", date: "2027-03-26" },
    [newReport(planId, { kind: "started" })],
    acting,
  );
  const client = new pg.Client({ connectionString: database.databaseUrl });
  await client.connect();
  for (const sql of ["update work_reports set kind = 'arrived'", "delete from work_reports"]) {
    await expect(client.query(sql)).rejects.toThrow("work_reports only grows");
  }
  await client.end();
});
