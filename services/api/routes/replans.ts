import { z } from "zod";
import { defaultPlanSeconds, planKeySchema, planRequestSchema } from "../../../shared/contracts/planRequests.ts";
import { differenceAnswerSchema, replanBodySchema } from "../../../shared/contracts/replans.ts";
import { addDays, createCalendar } from "../../../shared/model/calendar.ts";
import type { Settings } from "../../../shared/model/settings.ts";
import type { Told } from "../../../shared/replan/ask.ts";
import { movedByHand } from "../../../shared/replan/movedByHand.ts";
import { requestPiece } from "../../queue/pieces.ts";
import type { Store } from "../../store/store.ts";
import { askAgain, otherCall, refuse, unknownThing } from "../problems.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { none, operationParams, planParams } from "./parameters.ts";

export const replanRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/operations/{operationId}/replans",
    id: "requestReplan",
    summary: "Plan again from now on, near to the plan that crews go by: what is done, under way or locked stays",
    params: operationParams,
    query: none,
    once: true,
    body: { schema: replanBodySchema, optional: true },
    answers: { 202: { ...answers("The request is queued", planRequestSchema), locationHeader: true } },
    problems: [404, 409, 422, 503],
    async handle({ store, queue, mover }, { params: { operationId }, body, call }) {
      const latest = await store.latestOperation(operationId);
      if (!latest) return unknownThing("operation");
      const operation = latest.document;
      const told = await toldUpTo(store, operationId, body.fromPlanId);
      if (told === null) return unknownThing("plan");
      if (told === "nothingPublished") {
        return refuse(
          409,
          "Nothing of this operation has been published; name the plan to stay near by `fromPlanId`.",
          [],
        );
      }
      const asOf = body.asOf ?? nowWithin(operation.settings);
      const { firstDay, days } = operation.settings;
      const end = addDays(firstDay, days);
      if (asOf >= `${end}T00:00`) {
        const expected = `a time before ${end}, when the operation's days are over`;
        return refuse(422, "The operation's days are over by then.", [{ path: ["asOf"], value: asOf, expected }]);
      }
      const { changeCost, keepUntil } = body;
      const asked = await mover.replan({ operation, told: told.list, asOf, keepUntil, changeCost });
      if (asked.status !== "answered") return askAgain;
      const { operation: left, fates, remarks } = asked.answer;
      const made = await store.addReplan(
        {
          operationId,
          operation: left,
          fromPlanId: told.planId,
          budget:
            body.iterations === undefined
              ? { seconds: body.seconds ?? defaultPlanSeconds }
              : { iterations: body.iterations },
          seed: body.seed,
          facts: {
            asOf: asOf as NonNullable<typeof body.asOf>,
            keepUntil: keepUntil ?? null,
            changeCost,
            fates: [...fates],
            remarks: [...remarks],
          },
        },
        call.acting,
      );
      if (made.outcome === "otherCall") return otherCall;
      const request = (await store.planRequest(made.requestId))!;
      await queue.addInTurn([requestPiece(request)]);
      return { kind: "body", status: 202, body: request, location: `/api/plan-requests/${request.id}` };
    },
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/difference",
    id: "planDifference",
    summary: "What is otherwise in a plan than in an earlier one, and why",
    params: planParams,
    query: z.object({
      to: planKeySchema
        .optional()
        .describe(
          "the earlier plan; left out: the one that it was made again from, or else what crews have been told last",
        ),
    }),
    body: null,
    answers: { 200: answers("The difference", differenceAnswerSchema) },
    problems: [404, 409, 503],
    async handle({ store, mover }, { params: { planId }, query }) {
      const now = await store.plan(planId);
      if (!now) return unknownThing("plan");
      const replan = await store.replanFacts(planId);
      const beforePlanId = query.to ?? replan?.fromPlanId ?? (await store.latestPublication(now.operationId))?.planId;
      if (beforePlanId === undefined)
        return refuse(409, "Nothing of this operation has been published; name the earlier plan by `to`.", []);
      const before = await store.plan(beforePlanId);
      if (before?.operationId !== now.operationId) return unknownThing("plan of this operation");
      const [was, is] = await Promise.all(
        [before, now].map(async ({ operationId, version, plan }) => ({
          plan,
          operation: (await store.operationVersion(operationId, version))!.document,
        })),
      );
      // What had become of the stops by then was found out of that plan only.
      const facts = replan?.fromPlanId === beforePlanId ? replan.facts : null;
      const asked = await mover.difference({ before: was!, now: is!, fates: facts?.fates ?? [] });
      if (asked.status !== "answered") return askAgain;
      const difference = now.origin === "moved" ? movedByHand(asked.answer) : asked.answer;
      return ok({ planId, beforePlanId, ...difference, remarks: facts?.remarks ?? [] });
    },
  }),
];

/** What crews were told, and how far they have come with it; last the plan to stay near. */
async function toldUpTo(
  store: Store,
  operationId: string,
  fromPlanId: string | undefined,
): Promise<{ planId: string; list: [...Told[], Told] } | "nothingPublished" | null> {
  const plans = await store.toldPlans(operationId);
  const planId = fromPlanId ?? plans.at(-1)?.planId;
  if (planId === undefined) return "nothingPublished";
  const known = plans.find((one) => one.planId === planId);
  const last = known ?? (await toldPlan(store, operationId, planId));
  if (last === null) return null;
  const withProgress = async ({ planId, plan, operation }: NonNullable<typeof last>): Promise<Told> => ({
    plan,
    operation,
    progress: await store.progressOf(planId),
  });
  const earlier = await Promise.all(plans.filter((one) => one !== last).map(withProgress));
  return { planId, list: [...earlier, await withProgress(last)] };
}

async function toldPlan(store: Store, operationId: string, planId: string) {
  const stored = await store.plan(planId);
  if (stored?.operationId !== operationId) return null;
  const version = await store.operationVersion(operationId, stored.version);
  return { planId, plan: stored.plan, operation: version!.document };
}

/** Now, on the operation's clocks; before its days their beginning, and after them their last minute. */
function nowWithin(settings: Pick<Settings, "timeZone" | "firstDay" | "days">): string {
  const calendar = createCalendar(settings);
  const nowMin = Math.floor(calendar.minOfInstant(new Date().toISOString()));
  const min = Math.max(0, Math.min(calendar.horizonMin - 1, nowMin));
  return calendar.isoOfMin(min).slice(0, "2027-06-07T05:30".length);
}
