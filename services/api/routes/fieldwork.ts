import { z } from "zod";
import {
  type PlanProgress,
  planProgressSchema,
  reportBatchSchema,
  reportListSchema,
  reportOutcomesSchema,
} from "../../../shared/contracts/fieldwork.ts";
import { localDateSchema } from "../../../shared/model/quantities.ts";
import { judgeReports, outcomesOf } from "../judgeReports.ts";
import { onChange } from "../onChange.ts";
import { faultyCursor, pageOf, pageQuery, stretchOf } from "../paging.ts";
import { beingMade, nothingPublished, unknownThing } from "../problems.ts";
import { type ApiParts, answers, eventStream, ok, type Route, route, taggedAnswers } from "../route.ts";
import { jsonOf, type Rendered, type Viewing } from "../viewCache.ts";
import { crewParams, none, operationParams } from "./parameters.ts";

const crewDayParams = crewParams.extend({ date: localDateSchema });
const placeSchema = z.string().regex(/^\d{1,18}$/);

/** How far the plan has come that crews were told last; reckoned once after each report, however many read it. Null where nothing was published. */
async function progressView({ store, views }: ApiParts, operationId: string): Promise<Viewing> {
  const mark = await store.progressMark(operationId);
  return views.get(`progress ${operationId} ${mark}`, async () => {
    const latest = await store.latestPublication(operationId);
    const progress = latest && (await store.progress(latest.planId));
    return latest && progress
      ? jsonOf(planProgressSchema.parse({ ...progress, planId: latest.planId, publication: latest.number }))
      : null;
  });
}

const readProgress = ({ plain }: Rendered) => JSON.parse(plain.toString()) as PlanProgress;

export const fieldworkRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/operations/{operationId}/crews/{crewId}/days/{date}/reports",
    id: "addReports",
    summary: "Reports of a crew-day from a phone, as many as have gathered; each by its own id counts once",
    params: crewDayParams,
    query: none,
    body: { schema: reportBatchSchema, optional: false },
    answers: { 200: answers("What became of each report; a refused one keeps no other back", reportOutcomesSchema) },
    problems: [404, 422],
    async handle({ store }, { params, body, call }) {
      if (!(await store.operationSummary(params.operationId))) return unknownThing("operation");
      const judged = await judgeReports(store, params, body.reports);
      const good = judged.flatMap((one) => (one.status === "good" ? [one.report] : []));
      const added = good.length > 0 ? await store.addReports(params, good, call.acting) : [];
      return ok({ reports: outcomesOf(judged, added) });
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/days/{date}/reports",
    id: "listReports",
    summary: "Reports of a crew-day in the order in which they came in",
    params: crewDayParams,
    query: pageQuery,
    body: null,
    answers: { 200: answers("The reports", reportListSchema) },
    problems: [],
    async handle({ store }, { params, query }) {
      const stretch = stretchOf(query, placeSchema);
      if (stretch === undefined) return faultyCursor;
      const { entries, next } = pageOf(query, await store.reportsOfDay(params, stretch), ({ place }) => place);
      return ok({ reports: entries.map(({ kept }) => kept), next });
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/days/{date}/progress",
    id: "crewDayProgress",
    summary: "How far a crew has come on a day of the published plan",
    params: crewDayParams,
    query: none,
    body: null,
    answers: { 200: answers("The progress of its stops", planProgressSchema) },
    problems: [404],
    async handle(parts, { params }) {
      const view = await progressView(parts, params.operationId);
      if (view === null) return nothingPublished;
      if (view === "busy") return beingMade;
      const told = readProgress(view);
      const isOfDay = (one: { crewId: string; date: string }) =>
        one.crewId === params.crewId && one.date === params.date;
      return ok({ ...told, stops: told.stops.filter(isOfDay), remarks: told.remarks.filter(isOfDay) });
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/progress",
    id: "progress",
    summary: "How far the published plan has come, and what in the reports does not go together",
    params: operationParams,
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The progress of all stops", planProgressSchema) },
    problems: [404],
    async handle(parts, { params }) {
      const view = await progressView(parts, params.operationId);
      if (view === null) return nothingPublished;
      return view === "busy" ? beingMade : { kind: "view", view };
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/progress/events",
    id: "progressEvents",
    summary: "The same as it changes: events named progress, from how it stands now on, without an end",
    params: operationParams,
    query: none,
    body: null,
    answers: { 200: eventStream },
    problems: [404],
    async handle(parts, { params }) {
      const { store, onError } = parts;
      const { operationId } = params;
      if (!(await store.operationSummary(operationId))) return unknownThing("operation");
      return {
        kind: "events",
        source(send) {
          let lastEtag = "";
          let over = false;
          const stop = onChange(
            store,
            operationId,
            async () => {
              const view = await progressView(parts, operationId);
              if (over || view === null || view === "busy" || view.etag === lastEtag) return;
              lastEtag = view.etag;
              send("progress", readProgress(view));
            },
            onError,
          );
          return () => {
            over = true;
            stop();
          };
        },
      };
    },
  }),
];
