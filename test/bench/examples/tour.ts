import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { hashOf, randomSecret } from "../../../services/access/secrets.ts";
import { listRouteIds, wholeRouteIds } from "../../../services/api/resourceIds.ts";
import { readScenario } from "../../../services/scenario/read.ts";
import type { Store } from "../../../services/store/store.ts";
import { addDays } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { listResources, wholeResources } from "../../../shared/model/resources.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { eventually } from "../../support/servers.ts";
import type { createRecorder, Told } from "./record.ts";

type Call = ReturnType<typeof createRecorder>["call"];
const scenarios = join(import.meta.dirname, "../../../scenarios");

const matching = (told: Told<unknown>) => ({ "if-match": told.headers.get("etag")! });
const isNew = { "if-none-match": "*" };

/** Goes through the house as people do: the operation, its single things, plans, what crews are told, cases and studies, people. */
export async function tour(call: Call, store: Store): Promise<void> {
  const read = await readScenario(join(scenarios, "small"));
  if (!read.ok) throw new Error("the small scenario is faulty");
  await call("live");
  await call("ready");
  const { operation } = read;
  const imported = await call<{ operation: { id: string } }>("importOperation", { body: operation });
  const { id } = imported.body.operation;
  await single(call, id, operation);
  const { planId, plan } = await planned(call, id);
  await told(call, id, planId, plan);
  await reported(call, id, plan);
  await again(call, id, operation);
  await failed(call, store, id);
  await studied(call, id, planId, operation.settings.bases[0]!.id);
  await people(call, store, id, operation);
  await call("auditTrail", { query: "limit=2" });
}

async function single(call: Call, id: string, { orders, fleet, ...operation }: Operation): Promise<void> {
  const order = { ...orders[0]!, id: "O-new", apartFrom: [] };
  const made = await call("putOrder", { at: [id, order.id], body: order, headers: isNew });
  await call("deleteOrder", { at: [id, order.id], headers: matching(made) });
  const [crew] = fleet.crews;
  const lock = { crewId: crew!.id, date: crew!.shifts[0]!.date, nothingElse: false };
  const key = `${lock.crewId}:${lock.date}`;
  const locked = await call("putLock", { at: [id, key], body: lock, headers: isNew });
  for (const resource of listResources) {
    const ids = listRouteIds(resource);
    const listed = await call<{ entries: { key: string }[] }>(ids.list, { at: [id], query: "limit=2" });
    const entry = listed.body.entries[0];
    if (!entry) continue;
    const one = await call(ids.read, { at: [id, entry.key] });
    await call(ids.put, { at: [id, entry.key], body: one.body, headers: matching(one) });
  }
  await call("deleteLock", { at: [id, key], headers: matching(locked) });
  for (const resource of wholeResources) {
    const ids = wholeRouteIds(resource);
    const one = await call(ids.read, { at: [id] });
    await call(ids.put, { at: [id], body: one.body, headers: matching(one) });
  }
  const latest = await call<{ document: Operation }>("latestOperation", { at: [id] });
  await call("replaceOperation", { at: [id], body: latest.body.document, headers: matching(latest) });
  await files(call, id, operation);
  await call("listOperations");
  await call("operationVersions", { at: [id] });
  await call("operationVersion", { at: [id, "1"] });
  await call("windows", {
    at: [id, orders[0]!.id],
    query: `type=${fleet.aircraftTypes[0]!.id}&at=${operation.settings.firstDay}T09:00`,
  });
}

/** As they lie in the folder; what they hold is stored already, but for the hour of the forecast. */
async function files(call: Call, id: string, { settings }: Pick<Operation, "settings">): Promise<void> {
  const folder = join(scenarios, "small");
  const names = (await readdir(folder)).filter((name) => name !== "README.md");
  const texts = Object.fromEntries(
    await Promise.all(names.map(async (name) => [name, await readFile(join(folder, name), "utf8")] as const)),
  );
  await call("importFiles", { query: "look=yes", body: { files: texts } });
  const known = await call("latestOperation", { at: [id] });
  await call("replaceFiles", {
    at: [id],
    query: "look=yes",
    body: { files: { "weather.csv": texts["weather.csv"]! }, forecastIssued: `${settings.firstDay}T04:00` },
    headers: matching(known),
  });
}

async function madeOf(call: Call, asked: Told<{ id: string }>): Promise<string> {
  const planId = asked.body.id;
  await eventually(async () => {
    const { body } = await call<{ status: string }>("planRequest", { at: [planId] });
    return body.status === "done" ? body : null;
  }, 60_000);
  return planId;
}

/** The second day's morning: what was reported the day before is done. */
async function again(call: Call, id: string, { settings }: Operation): Promise<void> {
  const body = { asOf: `${addDays(settings.firstDay, 1)}T04:00`, changeCost: "high", iterations: 500 };
  const planId = await madeOf(call, await call("requestReplan", { at: [id], body }));
  await call("planDifference", { at: [planId] });
}

/** Two requests that come to nothing: one is worked again, one laid aside. */
async function failed(call: Call, store: Store, id: string): Promise<void> {
  const failure = { kind: "plannerFailed" as const, message: "the planner was stopped", breaches: [] };
  for (const route of ["repeatDeadLetter", "dismissDeadLetter"]) {
    const request = { operationId: id, version: 1, budget: { iterations: 1 }, seed: 1 };
    const { id: requestId } = await madeBy(store.addPlanRequest(request, acting));
    await store.startRequest(requestId);
    await store.finishRequest(requestId, { status: "failed", failure });
    await call("listDeadLetters");
    await call(route, { at: [requestId] });
  }
}

async function planned(call: Call, id: string): Promise<{ planId: string; plan: Plan }> {
  const planId = await madeOf(call, await call("requestPlan", { at: [id], body: { iterations: 500, seed: 1 } }));
  await call("listPlanRequests", { at: [id], query: "status=done" });
  await call("cancelPlanRequest", { at: [planId] });
  const { plan } = (await call<{ plan: Plan }>("plan", { at: [planId] })).body;
  for (const route of ["week", "calm", "conflicts", "check", "planMap"]) await call(route, { at: [planId] });
  await call("listPlans", { query: `operationId=${id}` });
  const [day] = plan.crewDays;
  for (const route of ["crewSheet", "crewDayMapOfPlan"]) await call(route, { at: [planId, day!.crewId, day!.date] });
  const stop = plan.crewDays.flatMap((one) => one.activities).find((one) => one.kind === "work");
  if (stop?.kind !== "work") throw new Error("the plan of the small scenario has no work");
  const { crewId, date } = day!;
  const { version } = (await call<{ version: number }>("latestOperation", { at: [id] })).body;
  const locked = await call<{ operation: { version: number } }>("lockCrewDay", {
    at: [planId],
    body: { crewId, date, version, what: "stops" },
  });
  await call("unlockCrewDay", { at: [planId, crewId, date], query: `version=${locked.body.operation.version}` });
  const moves = [{ blockId: stop.blockId, to: null }];
  const moved = await call<{ plan: { id: string } }>("movePlan", { at: [planId], body: { moves, keep: true } });
  const draft = moved.body.plan.id;
  await call("discardPlan", { at: [draft], headers: matching(await call("plan", { at: [draft] })) });
  return { planId, plan };
}

async function told(call: Call, id: string, planId: string, plan: Plan): Promise<void> {
  await call("publishPlan", { at: [planId], body: { after: 0, note: "Fill up with water the evening before." } });
  for (const route of ["listPublications", "publishedPlan", "publishedWeek"]) await call(route, { at: [id] });
  const [day] = plan.crewDays;
  await call("crewDays", { at: [id, day!.crewId] });
  for (const route of ["crewDay", "crewDayMap"]) await call(route, { at: [id, day!.crewId, day!.date] });
}

async function reported(call: Call, id: string, plan: Plan): Promise<void> {
  const day = plan.crewDays.find(({ activities }) => activities.some(({ kind }) => kind === "work"))!;
  const work = worksOf(day)[0]!;
  const { areaHa } = plan.blocks.find((block) => block.id === work.blockId)!;
  const at = [id, day.crewId, day.date];
  const report = (number: number, clock: string, more: object) => ({
    id: `00000000-0000-4000-8000-00000000000${number}`,
    publication: 1,
    blockId: work.blockId,
    at: `${day.date}T${clock}:00Z`,
    ...more,
  });
  const air = { windKph: 8, gustKph: 12, windFromDeg: 270, temperatureC: 18, humidityPct: 60, where: "at the pad" };
  const reports = [
    report(1, "05:10", { kind: "started" }),
    report(2, "05:15", { kind: "conditions", air }),
    report(3, "06:40", { kind: "finished", doneHa: areaHa }),
    report(4, "06:45", { kind: "landed" }),
  ];
  await call("addReports", { at, body: { reports } });
  await call("listReports", { at, query: "limit=2" });
  await call("crewDayProgress", { at });
  await call("progress", { at: [id] });
  await call("listApplicationRecords", { at: [id], query: `from=${day.date}` });
  const listed = await call<{ applicationRecords: { id: string }[] }>("listCrewRecords", { at: [id, day.crewId] });
  const record = [id, day.crewId, listed.body.applicationRecords[0]!.id];
  const one = await call("applicationRecord", { at: record });
  await call("changeApplicationRecord", {
    at: record,
    body: { byHand: { growerAddress: "Mill Lane 1" }, reason: "The grower has told the address." },
    headers: matching(one),
  });
  await call("applicationRecordVersion", { at: [...record, "1"] });
}

async function studied(call: Call, id: string, planId: string, baseId: string): Promise<void> {
  const changes = [{ kind: "addCharger", baseId, bays: 2, kw: 18 }];
  const cases = [{ id: "charger", name: "Another charger", changes }];
  const document = { name: "Another charger", cases: { formatVersion: 1, weeksPerYear: 20, interestPct: 4, cases } };
  const stored = await call<{ caseSet: { id: string } }>("importCaseSet", { at: [id], body: document });
  const set = stored.body.caseSet.id;
  await call("listCaseSets", { at: [id] });
  await call("latestCaseSet", { at: [set] });
  await call("caseSetVersion", { at: [set, "1"] });
  const study = await call<{ id: string }>("studyCases", { at: [set], body: { iterations: 50, seeds: 1 } });
  await eventually(async () => {
    const { body } = await call<{ status: string }>("study", { at: [study.body.id] });
    return body.status === "done" ? body : null;
  }, 60_000);
  await call("studyRemedies", { at: [planId], body: { iterations: 50 } });
  const other = await call<{ id: string }>("studyBottlenecks", {
    at: [planId],
    body: { seconds: 1, tried: 1, seeds: 1 },
  });
  await call("listStudies", { at: [id], query: "limit=2" });
  await call("cancelStudy", { at: [other.body.id] });
}

async function people(call: Call, store: Store, id: string, operation: Operation): Promise<void> {
  const password = "a few words that nobody guesses";
  const nobody = { as: {} };
  const first = randomSecret();
  await store.addFirstLink(hashOf(first), 3600);
  await call("firstStart", { ...nobody, body: { link: first, password, name: "first", shownName: "First Person" } });
  const crewId = operation.fleet.crews[0]!.id;
  const added = await call<{ person: { id: string }; passwordLink: { address: string } }>("addPerson", {
    body: { name: "lead", shownName: "Crew Lead", roles: ["crewLead"], crews: [{ operationId: id, crewId }] },
  });
  const personId = added.body.person.id;
  const linkIn = (address: string) => address.split("/").at(-1)!;
  await call("setPassword", { ...nobody, body: { link: linkIn(added.body.passwordLink.address), password } });
  const entered = await call<{ csrfToken: string }>("signIn", { ...nobody, body: { name: "first", password } });
  const cookie = (from: Told<unknown>) => from.headers.getSetCookie()[0]!.split(";")[0]!;
  const by = (from: Told<{ csrfToken: string }>) => ({
    as: { cookie: cookie(from), "x-csrf-token": from.body.csrfToken },
  });
  await call("session", by(entered));
  const again = await call<{ csrfToken: string }>("changePassword", {
    ...by(entered),
    body: { current: password, password: `${password}, not even now` },
  });
  const token = await call<{ token: { id: string } }>("makeToken", {
    ...by(again),
    body: { name: "weather station", roles: ["dispatcher"], days: 30 },
  });
  await call("listTokens", by(again));
  await call("revokeToken", { ...by(again), at: [token.body.token.id] });
  const owner = (await call<{ id: string }>("session", by(again))).body.id;
  await call("revokeTokenOf", { at: [owner, token.body.token.id] });
  await call("listPeople");
  await call("crewsToLead");
  const person = await call("person", { at: [personId] });
  await call("changePerson", {
    at: [personId],
    headers: matching(person),
    body: { shownName: "Crew Lead", roles: ["crewLead", "dispatcher"], crews: [], active: true },
  });
  await call("tokensOfPerson", { at: [personId] });
  await call("makePasswordLink", { at: [personId] });
  await call("endSessions", { at: [personId] });
  const link = await call<{ crewLink: { id: string }; address: string }>("makeCrewLink", {
    at: [id, crewId],
    body: { note: "the phone in the truck", days: 7 },
  });
  await call("openCrewLink", { ...nobody, body: { link: linkIn(link.body.address) } });
  await call("listCrewLinks", { at: [id] });
  await call("revokeCrewLink", { at: [link.body.crewLink.id] });
  await call("signOut", by(again));
}
