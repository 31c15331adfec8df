import type { CrewKey } from "../../../shared/contracts/access.ts";
import {
  addedPersonSchema,
  crewsToLeadSchema,
  newPersonSchema,
  passwordLinkSchema,
  personChangeSchema,
  personListSchema,
  personSchema,
} from "../../../shared/contracts/people.ts";
import type { Fault } from "../../../shared/contracts/problem.ts";
import { passwordLinkHours } from "../../access/links.ts";
import { hashOf, randomSecret } from "../../access/secrets.ts";
import type { Store } from "../../store/store.ts";
import { linkAddress } from "../links.ts";
import { changedMeanwhile, otherCall, refuse, refuseWhole, unknownThing } from "../problems.ts";
import { type Answer, answers, ok, type Route, route } from "../route.ts";
import { none, personParams } from "./parameters.ts";

const withEtag = (description: string) => ({ ...answers(description, personSchema), etagHeader: true });

/** Crews that the latest versions of their operations do not have. */
async function unknownCrews(store: Store, crews: readonly CrewKey[]): Promise<Fault[]> {
  const faults: Fault[] = [];
  const crewIds = new Map<string, readonly string[]>();
  for (const [index, { operationId, crewId }] of crews.entries()) {
    if (!crewIds.has(operationId)) {
      const found = await store.latestOperation(operationId);
      crewIds.set(operationId, found?.document.fleet.crews.map(({ id }) => id as string) ?? []);
    }
    if (!crewIds.get(operationId)!.includes(crewId)) {
      faults.push({ path: ["crews", index], value: crewId, expected: "a crew of a stored operation" });
    }
  }
  return faults;
}

const fresh = (person: { readonly version: number; readonly person: unknown }): Answer =>
  ok(person.person, String(person.version));

export const peopleRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/people",
    id: "listPeople",
    summary: "Everybody who can sign in, or could",
    params: none,
    query: none,
    body: null,
    answers: { 200: answers("The people, by name", personListSchema) },
    problems: [],
    handle: async ({ store }) => ok({ people: await store.people() }),
  }),

  route({
    method: "get",
    path: "/api/crews-to-lead",
    id: "crewsToLead",
    summary: "The crews of every operation by name, to say which of them somebody leads",
    params: none,
    query: none,
    body: null,
    answers: { 200: answers("The crews", crewsToLeadSchema) },
    problems: [],
    async handle({ store }) {
      const operations = [];
      for (const { id, name } of await store.listOperations()) {
        const crews = (await store.latestParts(id, ["fleet"]))?.parts.fleet.crews ?? [];
        operations.push({ id, name, crews: crews.map((crew) => ({ id: crew.id, name: crew.name })) });
      }
      return ok({ operations });
    },
  }),

  route({
    method: "post",
    path: "/api/people",
    id: "addPerson",
    summary: "Add a person; the link in the answer sets its password, once, and is not told again",
    params: none,
    query: none,
    once: true,
    body: { schema: newPersonSchema, optional: false },
    answers: {
      200: answers("The same call was answered before", addedPersonSchema),
      201: { ...answers("The person, and the link to hand over", addedPersonSchema), locationHeader: true },
    },
    problems: [409, 422],
    async handle(parts, { body, call }) {
      const faults = await unknownCrews(parts.store, body.crews);
      if (faults.length > 0) return refuseWhole(faults);
      const secret = randomSecret();
      const forS = passwordLinkHours * 3600;
      const expiresAt = new Date((await parts.store.timeNow()).getTime() + forS * 1000).toISOString();
      const added = await parts.store.addPerson(body, { hash: hashOf(secret), forS }, call.acting);
      if (added.outcome === "otherCall") return otherCall;
      if (added.outcome === "nameTaken") return refuse(409, "Somebody else has this name already.", []);
      const isNew = added.outcome === "made";
      const { person } = added.thing;
      const passwordLink = isNew ? { address: linkAddress(parts, call, "password", secret), expiresAt } : null;
      return {
        kind: "body",
        status: isNew ? 201 : 200,
        body: { person, passwordLink },
        location: `/api/people/${person.id}`,
        headers: { "cache-control": "no-store" },
      };
    },
  }),

  route({
    method: "get",
    path: "/api/people/{personId}",
    id: "person",
    summary: "One person",
    params: personParams,
    query: none,
    body: null,
    answers: { 200: withEtag("The person") },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await store.person(params.personId);
      return found ? fresh(found) : unknownThing("person");
    },
  }),

  route({
    method: "put",
    path: "/api/people/{personId}",
    id: "changePerson",
    summary: "Change what a person is called, is and leads, or let it no longer in",
    params: personParams,
    query: none,
    precondition: true,
    body: { schema: personChangeSchema, optional: false },
    answers: { 200: withEtag("The person as it is now") },
    problems: [404, 409, 422],
    async handle({ store }, { params, body, call }) {
      const faults = await unknownCrews(store, body.crews);
      if (faults.length > 0) return refuseWhole(faults);
      // People get their ids here, so there is none that could be new under this address.
      if (call.precondition?.kind !== "ifMatch") return changedMeanwhile;
      const versions = call.precondition.etags.map(Number);
      const changed = await store.changePerson(params.personId, versions, body, call.acting);
      switch (changed.outcome) {
        case "changed":
          return fresh(changed.changed);
        case "unknown":
          return unknownThing("person");
        case "changedMeanwhile":
          return changedMeanwhile;
        case "lastAdministrator":
          return refuse(409, "This is the last administrator who can sign in; make another one first.", []);
      }
    },
  }),

  route({
    method: "post",
    path: "/api/people/{personId}/sign-out",
    id: "endSessions",
    summary: "Sign a person out everywhere",
    params: personParams,
    query: none,
    body: null,
    answers: { 204: answers("Signed out everywhere", personSchema) },
    problems: [404],
    async handle({ store }, { params, call }) {
      return (await store.endSessionsOf(params.personId, call.acting)) ? { kind: "empty" } : unknownThing("person");
    },
  }),

  route({
    method: "post",
    path: "/api/people/{personId}/password-link",
    id: "makePasswordLink",
    summary: "A new link by which a person sets a password, for whoever has forgotten it; it ends the one before",
    params: personParams,
    query: none,
    body: null,
    answers: { 201: answers("The link, which is not told again", passwordLinkSchema) },
    problems: [404],
    async handle(parts, { params, call }) {
      const secret = randomSecret();
      const link = { hash: hashOf(secret), forS: passwordLinkHours * 3600 };
      const expiresAt = await parts.store.addPasswordLink(params.personId, link, call.acting);
      if (expiresAt === null) return unknownThing("active person");
      return {
        kind: "body",
        status: 201,
        body: { address: linkAddress(parts, call, "password", secret), expiresAt: expiresAt.toISOString() },
        headers: { "cache-control": "no-store" },
      };
    },
  }),
];
