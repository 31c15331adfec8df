import { moveAnswerSchema, moveBodySchema } from "../../../shared/contracts/moves.ts";
import { askAgain, otherCall, unknownThing } from "../problems.ts";
import { answers, type Route, route } from "../route.ts";
import { none, planParams } from "./parameters.ts";

export const moveRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/plans/{planId}/moves",
    id: "movePlan",
    summary: "Move stops of a plan by hand: whether it goes, why not, what it costs; with `keep` as a draft of its own",
    params: planParams,
    query: none,
    once: true,
    body: { schema: moveBodySchema, optional: false },
    answers: {
      200: answers("What the moves come to; nothing was kept", moveAnswerSchema),
      201: { ...answers("The draft was kept", moveAnswerSchema), locationHeader: true },
    },
    problems: [404, 422, 503],
    async handle({ store, mover }, { params, body, call }) {
      const parent = await store.planSummary(params.planId);
      if (parent === null) return unknownThing("plan");
      const { operationId, version } = parent;
      const latest = await store.latestParts(operationId, ["locks"]);
      const locksNow = latest !== null && latest.operation.version > version ? latest.parts.locks : undefined;
      const asked = await mover.move({
        operationKey: `${operationId} ${version}`,
        planId: parent.id,
        moves: body.moves,
        isKept: body.keep,
        ...(locksNow === undefined ? {} : { locksNow }),
        readOperation: async () => (await store.operationVersion(operationId, version))!.document,
        readPlan: async () => (await store.plan(parent.id))!.plan,
      });
      if (asked.status !== "answered") return askAgain;
      const { judgement, kept } = asked.answer;
      if (kept === null) return { kind: "body", status: 200, body: { ...judgement, plan: null } };
      const made = await store.addMovedPlan({ parent, ...kept, moves: body.moves }, call.acting);
      if (made.outcome === "otherCall") return otherCall;
      const plan = made.thing;
      return { kind: "body", status: 201, body: { ...judgement, plan }, location: `/api/plans/${plan.id}` };
    },
  }),
];
