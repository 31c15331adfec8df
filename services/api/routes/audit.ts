import { auditPageSchema, auditQuerySchema } from "../../../shared/contracts/audit.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { none } from "./parameters.ts";

export const auditRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/audit",
    id: "auditTrail",
    summary: "Who changed what, newest first, a page at a time",
    params: none,
    query: auditQuerySchema,
    body: null,
    answers: { 200: answers("A page of the trail", auditPageSchema) },
    problems: [],
    handle: async ({ store }, { query }) => ok(await store.auditTrail(query)),
  }),
];
