import { randomUUID } from "node:crypto";
import { fileURLToPath } from "node:url";
import { hashOf, randomSecret } from "../../services/access/secrets.ts";
import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { readScenario } from "../../services/scenario/read.ts";
import { planOperation } from "../../services/solver/planOperation.ts";
import { createRandom } from "../../services/solver/random.ts";
import type { Store } from "../../services/store/store.ts";
import type { CrewKey, Role } from "../../shared/contracts/access.ts";
import { crewKeySchema } from "../../shared/contracts/people.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { CrewDay, Plan } from "../../shared/plan/plan.ts";
import { worksOf } from "../../shared/plan/totals.ts";
import { acting, madeBy } from "./acting.ts";
import { demoCaseSet } from "./demoCases.ts";
import { demoSearch, storeDemoStudies } from "./demoStudies.ts";

export interface DemoAsk {
  /** Of a generated operation; left out: the demo. */
  readonly orders?: number;
  /** Of the search for the published plan; the draft has a third of it. */
  readonly iterations?: number;
  /** Studies as they were recorded, and one that is waiting. */
  readonly studies?: boolean;
  readonly port?: number;
}

type Session = { readonly cookie: string; readonly "x-csrf-token": string };

const ordersPerCrew = 12;
const scenarios = new URL("../../scenarios/", import.meta.url);

/** Fills an empty store with everything that screens show. */
export async function fillDemo(origin: string, store: Store, ask: DemoAsk) {
  const operation = ask.orders === undefined ? await demoOperation() : generated(ask.orders);
  const { operation: stored } = await store.importOperation(operation, acting);
  const operationId = stored.id;
  const iterations = ask.iterations ?? demoSearch.iterations;
  const draft = planOf(operation, Math.ceil(iterations / 3), 2);
  const draftId = await storePlan(store, operation, operationId, draft, Math.ceil(iterations / 3), 2);
  const plan = planOf(operation, iterations, demoSearch.seed);
  const planId = await storePlan(store, operation, operationId, plan, iterations, demoSearch.seed);
  await store.publish(planId, 0, "Fill up with water the evening before.", acting);
  const day = busiestFirstDay(plan);
  const { crewId, date } = day;
  const crew: CrewKey = crewKeySchema.parse({ operationId, crewId });
  const call = caller(origin);

  const dispatcher = await signedInPerson(call, store, "dana", "Dana Dispatch", ["dispatcher"]);
  const crewLead = await signedInPerson(call, store, "lee", "Lee Crewlead", ["crewLead"], [crew]);
  const owner = await signedInPerson(call, store, "olga", "Olga Owner", ["owner"]);
  const administrator = await signedInPerson(call, store, "ari", "Ari Admin", ["administrator"]);
  const path = `/api/operations/${operationId}/crews/${crewId}`;
  const link = await call<{ address: string }>("POST", `${path}/links`, dispatcher.session, {
    note: "phone in the truck",
    days: 7,
  });
  const phone = await begun(call, "/api/crew-links/open", { link: link.body.address.split("/").at(-1) });
  await call("POST", `${path}/days/${date}/reports`, phone, { reports: firstReports(operation, plan, day) });
  const caseSet = ask.orders === undefined ? await caseSetOf(store, operation, operationId) : null;
  const studies =
    caseSet === null || ask.studies !== true ? null : await storeDemoStudies(store, { operationId, planId, caseSet });

  const { session: _d, ...dana } = dispatcher;
  const { session: _c, ...lee } = crewLead;
  const { session: _o, ...olga } = owner;
  const { session: _a, ...ari } = administrator;
  return {
    operation,
    operationId,
    planId,
    draftId,
    plan,
    crewId,
    date,
    caseSetId: caseSet?.id ?? null,
    studies,
    people: { dispatcher: dana, crewLead: lee, owner: olga, administrator: ari },
    sessions: {
      dispatcher: dispatcher.session,
      crewLead: crewLead.session,
      owner: owner.session,
      administrator: administrator.session,
      phone,
    },
  };
}

async function demoOperation(): Promise<Operation> {
  const read = await readScenario(fileURLToPath(new URL("demo", scenarios)));
  if (!read.ok) throw new Error("scenarios/demo is faulty");
  return read.operation;
}

const generated = (orders: number): Operation =>
  generateOperation({ orders, crews: Math.max(1, Math.round(orders / ordersPerCrew)), days: 7, seed: 1 });

function planOf(operation: Operation, iterations: number, seed: number): Plan {
  return planOperation(operation, { seed, random: createRandom(seed), doneShare: (done) => done / iterations });
}

/** As if a worker had made it just now. */
async function storePlan(
  store: Store,
  operation: Operation,
  operationId: string,
  plan: Plan,
  iterations: number,
  seed: number,
): Promise<string> {
  const request = { operationId, version: 1, budget: { iterations }, seed };
  const { id } = await madeBy(store.addPlanRequest(request, acting));
  await store.startRequest(id);
  await store.finishRequest(id, { status: "done", plan, report: checkPlan(operation, plan) });
  return id;
}

/** Of the first date on which anything is worked, the crew with the most stops. */
function busiestFirstDay({ crewDays }: Plan): CrewDay {
  const working = crewDays.filter((day) => worksOf(day).length > 0);
  const date = working.map((day) => day.date).sort()[0];
  const [first] = working
    .filter((day) => day.date === date)
    .sort((one, other) => worksOf(other).length - worksOf(one).length || one.crewId.localeCompare(other.crewId));
  if (!first) throw new Error("the plan has no work");
  return first;
}

/** The first stop finished as planned, the next one stopped by the wind. */
function firstReports({ settings }: Operation, { blocks }: Plan, day: CrewDay): object[] {
  const calendar = createCalendar(settings);
  const at = (min: number) => new Date(calendar.epochMsOfMin(min)).toISOString();
  const [first, second] = worksOf(day);
  const areaOf = (blockId: string) => blocks.find(({ id }) => id === blockId)!.areaHa;
  const report = (blockId: string, min: number, more: object) => ({
    id: randomUUID(),
    publication: 1,
    blockId,
    at: at(min),
    ...more,
  });
  const air = { windKph: 8, gustKph: 12, windFromDeg: 270, temperatureC: 18, humidityPct: 60, where: "at the pad" };
  const done = first
    ? [
        report(first.blockId, first.startMin - 12, { kind: "arrived" }),
        report(first.blockId, first.startMin - 2, { kind: "conditions", air }),
        report(first.blockId, first.startMin, { kind: "started" }),
        report(first.blockId, first.startMin + 10, { kind: "loadDone" }),
        report(first.blockId, first.endMin, { kind: "finished", doneHa: areaOf(first.blockId) }),
      ]
    : [];
  const stopped = second
    ? [
        report(second.blockId, second.startMin - 5, { kind: "arrived" }),
        report(second.blockId, second.startMin, { kind: "started" }),
        report(second.blockId, second.startMin + 15, {
          kind: "stopped",
          reason: "wind",
          words: "Gusts over the limit at the north edge.",
          doneHa: areaOf(second.blockId) / 2,
        }),
      ]
    : [];
  return [...done, ...stopped];
}

async function caseSetOf(store: Store, operation: Operation, operationId: string) {
  const document = await demoCaseSet(operation);
  return (await store.importCaseSet({ operationId, name: document.name, document }, acting)).caseSet;
}

type Call = ReturnType<typeof caller>;
function caller(origin: string) {
  return async <Body>(method: string, path: string, headers: Readonly<Record<string, string>>, body?: unknown) => {
    const response = await fetch(`${origin}${path}`, {
      method,
      headers: { "content-type": "application/json", ...headers },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await response.text();
    if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${text}`);
    return { body: (text === "" ? null : JSON.parse(text)) as Body, headers: response.headers };
  };
}

async function begun(call: Call, path: string, body: object): Promise<Session> {
  const told = await call<{ csrfToken: string }>("POST", path, {}, body);
  const cookie = told.headers.getSetCookie()[0]!.split(";")[0]!;
  return { cookie, "x-csrf-token": told.body.csrfToken };
}

async function signedInPerson(
  call: Call,
  store: Store,
  name: string,
  shownName: string,
  roles: readonly Role[],
  crews: readonly CrewKey[] = [],
) {
  const [link, password] = [randomSecret(), randomSecret()];
  const person = { name, shownName, roles: [...roles], crews: crewKeySchema.array().parse(crews) };
  const added = await store.addPerson(person, { hash: hashOf(link), forS: 60 }, acting);
  if (added.outcome !== "made") throw new Error(added.outcome);
  return { name, password, session: await begun(call, "/api/password-links/use", { link, password }) };
}
