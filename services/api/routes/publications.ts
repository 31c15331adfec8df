import { z } from "zod";
import {
  type Publication,
  publicationListSchema,
  publicationSchema,
  publishBodySchema,
  publishedPlanSchema,
} from "../../../shared/contracts/plans.ts";
import { weekViewSchema } from "../../../shared/contracts/views.ts";
import { counted } from "../../../shared/plan/words.ts";
import { cursorOf, faultyCursor, pageQuery, placeOf } from "../paging.ts";
import { viewOfPlan } from "../planViews.ts";
import { askAgain, nothingPublished, otherCall, problem, refuse, unknownThing } from "../problems.ts";
import { type Answer, type ApiParts, answers, ok, type Route, route, taggedAnswers } from "../route.ts";
import { unstorableTexts } from "../storableText.ts";
import { none, operationParams, planParams } from "./parameters.ts";
import { viewOr } from "./plans.ts";

/** Our choice: so many breaches are sent; all are counted. */
const mostBreaches = 100;
const numberSchema = z.number().int().positive().max(2_147_483_647);

export const publicationRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/plans/{planId}/publish",
    id: "publishPlan",
    summary: "Tell crews a plan, if it still holds under the latest version of its operation",
    params: planParams,
    query: none,
    once: true,
    body: { schema: publishBodySchema, optional: false },
    answers: { 200: answers("What crews are told from now on", publicationSchema) },
    problems: [404, 409, 422, 503],
    async handle(parts, { params, body, call }) {
      const { store } = parts;
      const texts = unstorableTexts(body);
      if (texts.length > 0) return refuse(422, "Faulty body.", texts);
      const plan = await store.planSummary(params.planId);
      if (plan === null) return unknownThing("plan");
      // What is published already need not be judged again: sent twice, the call changes nothing.
      const judged = plan.state === "published" ? { version: undefined } : await judge(parts, params.planId);
      if ("kind" in judged) return judged;
      const told = await store.publish(params.planId, body.after, body.note, call.acting, judged.version);
      switch (told.outcome) {
        case "published":
          return ok(told.publication);
        case "changedMeanwhile":
          return refuse(409, latestWords(told.latest), []);
        case "operationChanged":
          return refuse(409, "The operation was changed just now; look at it and publish again.", []);
        case "otherCall":
          return otherCall;
        case "unknown":
          return unknownThing("plan");
      }
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/publications",
    id: "listPublications",
    summary: "What crews have been told, newest first",
    params: operationParams,
    query: pageQuery,
    body: null,
    answers: { 200: answers("The publications", publicationListSchema) },
    problems: [],
    async handle({ store }, { params, query: { limit, cursor } }) {
      const before = cursor === undefined ? null : placeOf(numberSchema, cursor);
      if (before === undefined) return faultyCursor;
      const found = await store.publicationsOf(params.operationId, limit + 1, before ?? undefined);
      const page = found.slice(0, limit);
      return ok({ publications: page, next: found.length > limit ? cursorOf(page.at(-1)!.number) : null });
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/published",
    id: "publishedPlan",
    summary: "What crews have been told last",
    params: operationParams,
    query: none,
    body: null,
    answers: { 200: answers("The publication and its plan", publishedPlanSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const publication = await store.latestPublication(params.operationId);
      const plan = publication && (await store.planSummary(publication.planId));
      return plan ? ok({ publication, plan }) : nothingPublished;
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/published/week",
    id: "publishedWeek",
    summary: "The week that crews have been told last",
    params: operationParams,
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The week", weekViewSchema) },
    problems: [404],
    async handle(parts, { params }) {
      const publication = await parts.store.latestPublication(params.operationId);
      if (publication === null) return nothingPublished;
      return viewOr(await viewOfPlan(parts, publication.planId, { kind: "week" }), "plan");
    },
  }),
];

function latestWords(latest: Publication | null): string {
  if (latest === null) return "Nothing has been published yet; publish after 0.";
  return `Publication ${latest.number} by ${latest.byName}, at ${latest.createdAt}, is the latest; look at it, then publish after ${latest.number}.`;
}

/** The latest version of the operation, if the plan holds under it. */
async function judge({ store, mover }: ApiParts, planId: string): Promise<{ version: number } | Answer> {
  const stored = await store.plan(planId);
  if (stored === null) return unknownThing("plan");
  const { operationId } = stored;
  const latest = await store.latestOperation(operationId);
  if (latest === null) return unknownThing("operation");
  // What was derived of the latest version for planning again is later than it, and is what the plan is of.
  const own = stored.version > latest.version ? await store.operationVersion(operationId, stored.version) : latest;
  const asked = await mover.check(own!.document, stored.plan);
  if (asked.status !== "answered") return askAgain;
  // What a plan costs is reckoned under its own version and told to no crew: another price since then keeps nothing from them.
  const isOwn = stored.version === own!.version;
  const breaches = asked.answer.breaches.filter(({ rule }) => isOwn || rule !== "score");
  if (breaches.length === 0) return { version: latest.version };
  const since = isOwn ? "" : ` under version ${own!.version} of its operation`;
  const first = breaches[0]!.sentence.replace(/\.$/, "");
  const broken = counted(breaches.length, "rule is broken", "rules are broken");
  const detail = `The plan does not hold${since}: ${broken}, the first: ${first}. Plan again, or move what does not hold.`;
  const told = breaches.slice(0, mostBreaches).map((breach) => ({ ...breach }));
  return { kind: "problem", problem: { ...problem(409, detail), breaches: told } };
}
