import { aliveSchema, readySchema } from "../../../shared/contracts/health.ts";
import { problem } from "../problems.ts";
import { type Answer, answers, ok, type Route, route } from "../route.ts";
import { succeedsWithin } from "../succeedsWithin.ts";
import { none } from "./parameters.ts";

/** Our choice: who asks whether we are ready asks every few seconds, and takes no answer for no. */
const answerWithinMs = 1_000;
const retryAfterS = 5;
const notReady = (detail: string): Answer => ({ kind: "problem", problem: problem(503, detail), retryAfterS });

export const healthRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/health/live",
    id: "live",
    summary: "Whether the server runs; if not, start it again",
    params: none,
    query: none,
    body: null,
    answers: { 200: answers("It runs", aliveSchema) },
    problems: [],
    handle: async () => ok({ status: "alive" }),
  }),

  route({
    method: "get",
    path: "/health/ready",
    id: "ready",
    summary: "Whether the server can do its work now; if not, send callers to another one, or wait",
    params: none,
    query: none,
    body: null,
    answers: { 200: answers("The database answers, and its tables are up to date", readySchema) },
    problems: [],
    async handle({ store, queue, isClosing }) {
      if (isClosing?.()) return notReady("This server is stopping.");
      let isUpToDate = false;
      const [database, queued] = await Promise.all([
        succeedsWithin(
          answerWithinMs,
          store.isUpToDate().then((is) => {
            isUpToDate = is;
          }),
        ),
        succeedsWithin(answerWithinMs, queue.ping()),
      ]);
      if (!database) return notReady("The database does not answer.");
      if (!isUpToDate) return notReady("The database's tables are not up to date.");
      return ok({
        status: queued ? "ready" : "degraded",
        database: "answers",
        queue: queued ? "answers" : "doesNotAnswer",
      });
    },
  }),
];
