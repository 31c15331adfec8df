import { execFile } from "node:child_process";
import { randomUUID } from "node:crypto";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, describe, expect, it } from "vitest";
import { readScenario } from "../../../services/scenario/read.ts";
import type { Comparison } from "../../../shared/cases/comparison.ts";
import type { Remedies } from "../../../shared/cases/remedy.ts";
import type { CaseSetSummary, CaseSetVersion } from "../../../shared/contracts/caseSets.ts";
import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import type { Study, StudySummary } from "../../../shared/contracts/studies.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { temporaryFolder } from "../../support/servers.ts";
import { serveApi } from "./serveApi.ts";

const { call, get, post, follow, importOperation } = serveApi();
const root = fileURLToPath(new URL("../../../", import.meta.url));
const small = join(root, "scenarios/small");
const folder = temporaryFolder();
afterAll(() => folder.remove());

async function smallScenario(): Promise<Operation> {
  const read = await readScenario(small);
  if (!read.ok) throw new Error("scenarios/small is faulty");
  return read.operation;
}

/** What the command line prints; some verbs exit with 1 when the answer is no. */
async function calmhour(...words: string[]): Promise<string> {
  const main = [`--import`, import.meta.resolve("tsx"), join(root, "services/cli/main.ts")];
  const run = promisify(execFile)(process.execPath, [...main, ...words], { maxBuffer: 10_000_000 });
  return (
    await run.catch((error: { code?: unknown; stdout: string }) => {
      if (error.code !== 1) throw error;
      return error;
    })
  ).stdout;
}

/** What the operation has is named by its own ids. */
function casesOf({ fleet }: Operation) {
  const { typeId, baseId } = fleet.aircraft[0]!;
  return {
    formatVersion: 1,
    cases: [
      { id: "one-more", name: "One more aircraft", changes: [{ kind: "addAircraft", typeId, baseId, batterySets: 2 }] },
      { id: "crew-away", name: "A crew away", changes: [{ kind: "takeCrew", crewId: fleet.crews[0]!.id }] },
    ],
    budget: { iterations: 60 },
    seeds: 2,
    weeksPerYear: 30,
    interestPct: 5,
  };
}

async function storedSet(name: string, cases: object, operation: Operation) {
  const { id } = (await importOperation(operation)).body.operation;
  const stored = await post<{ caseSet: CaseSetSummary }>(`/api/operations/${id}/case-sets`, { name, cases });
  return { operationId: id, stored, caseSet: stored.body.caseSet };
}

describe("cases by way of the API", { timeout: 240_000 }, () => {
  it("are stored by version, studied, followed, and come to the same as on the command line, byte for byte", async () => {
    const operation = await smallScenario();
    const cases = casesOf(operation);
    const { operationId, stored, caseSet } = await storedSet("whether to buy", cases, operation);
    expect(stored.status).toBe(201);
    expect(stored.headers.get("location")).toBe(`/api/case-sets/${caseSet.id}/versions/1`);
    const again = await post(`/api/operations/${operationId}/case-sets`, { cases, name: "whether to buy" });
    expect(again.status).toBe(200);
    const set = (await get<CaseSetVersion>(`/api/case-sets/${caseSet.id}`)).body;
    expect((await get(`/api/case-sets/${caseSet.id}/versions/1`)).body).toEqual(set);
    expect(set.document).toMatchObject({ name: "whether to buy", cases: { seeds: 2 } });
    const { caseSets } = (await get<{ caseSets: CaseSetSummary[] }>(`/api/operations/${operationId}/case-sets`)).body;
    expect(caseSets).toEqual([caseSet]);

    const asked = await post<Study>(`/api/case-sets/${caseSet.id}/studies`, { iterations: 80 });
    expect(asked.status).toBe(202);
    expect(asked.body).toMatchObject({
      kind: "cases",
      status: "queued",
      operationId,
      caseSetId: caseSet.id,
      caseSetVersion: 1,
      ask: { budget: { iterations: 80 }, seeds: 2, weeks: null },
      progress: { parts: 3, ended: 0 },
      result: null,
    });
    const location = asked.headers.get("location")!;
    expect(location).toBe(`/api/studies/${asked.body.id}`);
    const events = await follow(`${location}/events`);
    expect(events.length).toBeGreaterThan(1);
    expect(events.at(-1)).toMatchObject({ event: "done", data: { status: "done", progress: { ended: 3, share: 1 } } });
    const study = (await get<Study>(location)).body;
    expect(study.failure).toBeNull();

    const file = join(folder.folder, "cases.json");
    writeFileSync(file, JSON.stringify(cases));
    const told = await calmhour("whatif", small, file, "--json", "--iterations", "80", "--threads", "1");
    expect(JSON.stringify(study.result)).toBe(JSON.stringify(JSON.parse(told)));
    const comparison = study.result as Comparison;
    expect(comparison.cases.map(({ id, runs }) => [id, runs])).toEqual([
      ["one-more", 2],
      ["crew-away", 2],
    ]);

    const { studies } = (await get<{ studies: StudySummary[] }>(`/api/operations/${operationId}/studies`)).body;
    const { result: _, ...summary } = study;
    expect(studies).toEqual([summary]);
  });

  it("are planned over weeks that are sampled from a season, when they are sent with one", async () => {
    const operation = await smallScenario();
    const { stationId, latDeg, lonDeg } = operation.weather[0]!;
    const first = Date.parse("2026-05-01T00:00:00Z");
    const weather = Array.from({ length: 90 * 24 }, (_, hour) => ({
      stationId,
      latDeg,
      lonDeg,
      start: new Date(first + hour * 3_600_000).toISOString(),
      stepMin: 60,
      windKph: 4 + (hour % 17),
      gustKph: 8 + (hour % 17),
      windFromDeg: (hour * 7) % 360,
      temperatureC: 14 + (hour % 5),
      humidityPct: 60,
      rainMm: hour % 71 === 0 ? 1 : 0,
      rainProbabilityPct: 5,
      cloudPct: 30,
    }));
    const document = {
      formatVersion: 1,
      name: "June",
      demand: [{ from: "2027-06-01", to: "2027-06-30", ordersPerWeek: 3 }],
    };
    const { id } = (await importOperation(operation)).body.operation;
    const path = `/api/operations/${id}/case-sets`;
    const cases = casesOf(operation);
    const bare = await post<Problem>(path, {
      name: "a season",
      cases,
      season: { document: { ...document, demand: [] }, weather: [{ ...weather[0], gustKph: 1 }] },
    });
    expect(bare.status).toBe(422);
    expect(bare.body.faults!.map(({ path: at }) => at.slice(0, 2).join("."))).toContain("season.document");
    const contrary = await post<Problem>(path, {
      name: "a season",
      cases,
      season: { document, weather: [{ ...weather[0], gustKph: 1 }, ...weather.slice(1)] },
    });
    expect(contrary.body.faults!.map(({ path: at }) => at)).toEqual([["season", "weather", 0, "gustKph"]]);

    const stored = await post<{ caseSet: CaseSetSummary }>(path, {
      name: "a season",
      cases,
      season: { document, weather },
    });
    expect(stored.status).toBe(201);
    const read = await get<{ document: { season: unknown } }>(`/api/case-sets/${stored.body.caseSet.id}`);
    expect(read.body.document.season).toMatchObject({ document, weather });
    const asked = await post<Study>(`/api/case-sets/${stored.body.caseSet.id}/studies`, { iterations: 20, weeks: 2 });
    expect(asked.body).toMatchObject({ ask: { seeds: 1, weeks: 2 }, progress: { parts: 6 } });
    const done = (await follow(`/api/studies/${asked.body.id}/events`)).at(-1)!.data as Study;
    const comparison = done.result as Comparison;
    expect(comparison).toMatchObject({ weeks: 2, failed: [] });
    expect(comparison.base.season).not.toBeNull();

    const columns = Object.keys(weather[0]!) as (keyof (typeof weather)[number])[];
    const rows = weather.map((step) => columns.map((column) => step[column]).join(","));
    writeFileSync(join(folder.folder, "history.csv"), [columns.join(","), ...rows].join("\n"));
    writeFileSync(join(folder.folder, "season.json"), JSON.stringify(document));
    const file = join(folder.folder, "season-cases.json");
    writeFileSync(file, JSON.stringify({ ...cases, season: { file: "season.json", history: "history.csv" } }));
    const told = await calmhour(
      "whatif",
      small,
      file,
      "--json",
      "--weeks",
      "2",
      "--iterations",
      "20",
      "--threads",
      "1",
    );
    expect(JSON.stringify(comparison)).toBe(JSON.stringify(JSON.parse(told)));
  });

  it("are not sampled from a season that was not sent", async () => {
    const operation = await smallScenario();
    const { caseSet } = await storedSet("without a season", casesOf(operation), operation);
    const refused = await post<Problem>(`/api/case-sets/${caseSet.id}/studies`, { weeks: 3 });
    expect(refused.body).toMatchObject({ status: 422, faults: [{ path: ["weeks"], value: 3 }] });
    const slips = { seeds: 1e20, weeks: -1, seed: 1 };
    const faulty = await post<Problem>(`/api/case-sets/${caseSet.id}/studies`, slips);
    expect(faulty.body.faults).toEqual([
      { path: ["seeds"], value: 1e20, expected: "a whole number from 1 to 100" },
      { path: ["weeks"], value: -1, expected: "a whole number from 1 to 1000" },
      { path: ["seed"], value: 1, expected: expect.stringMatching(/^one of iterations, seeds, weeks/) },
    ]);
  });

  it("are studied only as long as they fit the operation as it is now", async () => {
    const operation = await smallScenario();
    const { operationId, caseSet } = await storedSet("gone since", casesOf(operation), operation);
    // Nothing of the set is wrong for the operation as it is now: it may well be studied.
    const studied = await post<Study>(`/api/case-sets/${caseSet.id}/studies`, { iterations: 1, seeds: 1 });
    expect(studied.status).toBe(202);
    await call("POST", `/api/studies/${studied.body.id}/cancel`, {});
    const [crew, ...others] = operation.fleet.crews;
    const without = { ...operation, fleet: { ...operation.fleet, crews: others }, locks: [] };
    expect((await importOperation(without)).body.operation.id).toBe(operationId);
    const refused = await post<Problem>(`/api/case-sets/${caseSet.id}/studies`, {});
    expect(refused.status).toBe(422);
    expect(refused.body.faults).toMatchObject([
      { path: ["cases", "cases", 1, "changes", 0, "crewId"], value: crew!.id },
    ]);
  });

  it("are cancelled while they are planned", async () => {
    const operation = await smallScenario();
    const { caseSet } = await storedSet("never ends", casesOf(operation), operation);
    const asked = await post<Study>(`/api/case-sets/${caseSet.id}/studies`, { iterations: 50_000_000 });
    const path = `/api/studies/${asked.body.id}`;
    const following = follow(`${path}/events`);
    await expect.poll(async () => (await get<Study>(path)).body.status, { timeout: 20_000 }).toBe("running");
    expect((await call("POST", `${path}/cancel`, {})).status).toBe(202);
    expect((await following).at(-1)).toMatchObject({ event: "done", data: { status: "cancelled", result: null } });
    expect((await call("POST", `${path}/cancel`, {})).status).toBe(200);
  });
});

describe("studies of a plan", { timeout: 240_000 }, () => {
  async function plannedSmall() {
    const { id } = (await importOperation(await smallScenario())).body.operation;
    const asked = await post<PlanRequest>(`/api/operations/${id}/plans`, { iterations: 50 });
    const ended = (await follow(`/api/plan-requests/${asked.body.id}/events`)).at(-1)!.data as PlanRequest;
    return ended.planId!;
  }

  it("tell its remedies, the same as on the command line, byte for byte", async () => {
    const planId = await plannedSmall();
    const ask = { iterations: 10, seed: 3 };
    const asked = await post<Study>(`/api/plans/${planId}/remedies`, ask);
    expect(asked.headers.get("location")).toBe(`/api/studies/${asked.body.id}`);
    expect(asked.body).toMatchObject({ kind: "remedies", planId, ask, progress: { parts: 1 } });
    expect((await follow(`/api/studies/${asked.body.id}/events`)).at(-1)).toMatchObject({ event: "done" });
    const { status, failure, result } = (await get<Study>(`/api/studies/${asked.body.id}`)).body;
    expect({ status, failure }).toEqual({ status: "done", failure: null });
    const { groups } = result as Remedies;
    expect(groups.length).toBeGreaterThan(0);

    const { plan } = (await get<{ plan: Plan }>(`/api/plans/${planId}`)).body;
    const file = join(folder.folder, "plan.json");
    writeFileSync(file, JSON.stringify(plan));
    const told = await calmhour(
      "remedies",
      small,
      file,
      "--json",
      "--iterations",
      "10",
      "--seed",
      "3",
      "--threads",
      "1",
    );
    expect(JSON.stringify(result)).toBe(JSON.stringify(JSON.parse(told)));

    const { orderIds } = groups[0]!.group;
    const one = await post<Study>(`/api/plans/${planId}/remedies`, { ...ask, orderId: orderIds[0] });
    await follow(`/api/studies/${one.body.id}/events`);
    const { result: ofOne } = (await get<Study>(`/api/studies/${one.body.id}`)).body;
    expect((ofOne as Remedies).groups.every(({ group }) => group.orderIds.includes(orderIds[0]!))).toBe(true);
    const none = await post<Problem>(`/api/plans/${planId}/remedies`, { orderId: "nothing-such" });
    expect(none.body).toMatchObject({ status: 422, faults: [{ path: ["orderId"], value: "nothing-such" }] });
  });

  it("tell its bottlenecks", async () => {
    const planId = await plannedSmall();
    const ask = { seconds: 1, tried: 1, seeds: 2, iterations: 20 };
    const asked = await post<Study>(`/api/plans/${planId}/bottlenecks`, ask);
    expect(asked.body).toMatchObject({ kind: "bottlenecks", planId, ask, progress: { parts: 1 } });
    expect((await follow(`/api/studies/${asked.body.id}/events`)).at(-1)).toMatchObject({ event: "done" });
    const { status, failure, result } = (await get<Study>(`/api/studies/${asked.body.id}`)).body;
    expect({ status, failure }).toEqual({ status: "done", failure: null });
    expect(result).toMatchObject({ seeds: 2, iterations: 20 });
    const { units } = result as { units: { words: string; realised: { cents: { pairs: number } } | null }[] };
    expect(units.length).toBeGreaterThan(0);
    expect(units.flatMap(({ realised }) => realised?.cents.pairs ?? [])).toEqual([2]);
  });

  it("are not made of a plan that there is not", async () => {
    for (const what of ["remedies", "bottlenecks"]) {
      const none = await call<Problem>("POST", `/api/plans/${randomUUID()}/${what}`, {});
      expect(none.status).toBe(404);
    }
  });
});

describe("a set of cases that is faulty", () => {
  it("is refused whole, with every fault named at once", async () => {
    const operation = await smallScenario();
    const { id } = (await importOperation(operation)).body.operation;
    const cases = structuredClone(casesOf(operation)) as Record<string, unknown> & { cases: Record<string, unknown>[] };
    cases.seeds = 0;
    cases.cases[0]!.id = "base";
    cases.cases[1]!.changes = [{ kind: "takeCrew", crewId: "nobody" }];
    const refused = await post<Problem>(`/api/operations/${id}/case-sets`, { name: "", cases, more: 1 });
    expect(refused.status).toBe(422);
    const places = refused.body.faults!.map(({ path }) => path.join("."));
    expect(places).toEqual(
      expect.arrayContaining(["name", "cases.seeds", "cases.cases.0.id", "cases.cases.1.changes.0.crewId"]),
    );
    expect(refused.body.faults).toContainEqual(
      expect.objectContaining({ path: ["cases", "cases", 1, "changes", 0, "crewId"], value: "nobody" }),
    );
    const { caseSets } = (await get<{ caseSets: CaseSetSummary[] }>(`/api/operations/${id}/case-sets`)).body;
    expect(caseSets.map(({ name }) => name)).not.toContain("");
  });

  it.each([[null], [[]], ["text"], [7], [{}], [{ name: "a\u0000b", cases: {} }]])(
    "is refused when it is %j",
    async (document) => {
      const { id } = (await importOperation(await smallScenario())).body.operation as OperationSummary;
      const refused = await post<Problem>(`/api/operations/${id}/case-sets`, document);
      expect(refused.status).toBe(422);
      expect(refused.body.faults!.length).toBeGreaterThan(0);
    },
  );
});

describe("calls that are wrong", () => {
  const json = { "content-type": "application/json" };
  const set = `/api/case-sets/${randomUUID()}`;
  const study = `/api/studies/${randomUUID()}`;
  it.each<[string, number, "GET" | "POST", string, RequestInit]>([
    [
      "a set of an unknown operation",
      404,
      "POST",
      `/api/operations/${randomUUID()}/case-sets`,
      { body: "{}", headers: json },
    ],
    ["an unknown set", 404, "GET", set, {}],
    ["an unknown version of a set", 404, "GET", `${set}/versions/1`, {}],
    ["a study of an unknown set", 404, "POST", `${set}/studies`, {}],
    ["a study with no seeds", 422, "POST", `${set}/studies`, { body: '{"seeds":0}', headers: json }],
    ["a study with a member that is unknown", 422, "POST", `${set}/studies`, { body: '{"seed":1}', headers: json }],
    ["an unknown study", 404, "GET", study, {}],
    ["events of an unknown study", 404, "GET", `${study}/events`, {}],
    ["cancelling an unknown study", 404, "POST", `${study}/cancel`, {}],
  ])("get a problem: %s -> %i", async (_what, status, method, path, init) => {
    const { body, headers } = await call<Problem>(method, path, init);
    expect(body).toMatchObject({ status, type: "about:blank" });
    expect(headers.get("content-type")).toContain("application/problem+json");
  });
});
