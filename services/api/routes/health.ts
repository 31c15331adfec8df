import { healthSchema } from "../../../shared/contracts/health.ts";
import { problem } from "../problems.ts";
import { type Answer, answers, ok, type Route, route } from "../route.ts";
import { none } from "./parameters.ts";

export const healthRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/health",
    id: "health",
    summary: "Whether the server and its database answer",
    params: none,
    query: none,
    body: null,
    answers: { 200: answers("All is well", healthSchema) },
    problems: [503],
    async handle({ store, onError }): Promise<Answer> {
      try {
        await store.ping();
      } catch (error) {
        onError(error);
        return { kind: "problem", problem: problem(503, "The database does not answer.") };
      }
      return ok({ status: "ok", database: "answers" });
    },
  }),
];
