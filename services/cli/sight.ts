import type { EndedCall } from "../sight/endedCall.ts";
import type { EndedJob } from "../sight/endedJob.ts";
import type { Log } from "../sight/log.ts";
import type { Metrics } from "../sight/metrics.ts";
import { storeTrouble } from "../store/trouble.ts";

/** What happens, told to log and figures alike. */
export function sightOf(log: Log, metrics: Metrics) {
  return {
    onError(error: unknown, callId?: string) {
      metrics.onError(storeTrouble(error)?.kind ?? "other");
      log.error(error, callId === undefined ? {} : { callId });
    },
    onCall(call: EndedCall) {
      metrics.onCall(call);
      const { callId, routeId, method, status, durationMs, actor, brokenOff } = call;
      log.note("call", {
        callId,
        route: routeId,
        method,
        status,
        ms: Math.round(durationMs),
        actor: actor?.id ?? null,
        actorKind: actor?.kind ?? null,
        brokenOff,
      });
    },
    onJob(jobId: string, job: EndedJob) {
      metrics.onJob(job);
      const { seconds, ...rest } = job;
      log.note("job", { jobId, ms: Math.round(seconds * 1000), ...rest });
    },
  };
}
