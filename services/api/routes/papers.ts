import { z } from "zod";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import { measuresOf } from "../../../shared/plan/measures.ts";
import { unitSystems } from "../../../shared/units/units.ts";
import { type MapFormat, mapFormatNames, mapFormats } from "../../papers/geo/mapFiles.ts";
import { paperSizes } from "../../papers/page/paper.ts";
import type { PaperSource } from "../../papers/page/source.ts";
import { type WeekTableName, weekTableNames } from "../../papers/tables/weekTables.ts";
import { dayMapFile, fieldsFile, type Look, type Planned, sheetFile, tableFile, weekFile } from "../paperFiles.ts";
import { planSource, publishedSource } from "../paperSource.ts";
import { planWithOperation } from "../planViews.ts";
import { refuse, unknownThing } from "../problems.ts";
import { type Answer, type ApiParts, fileAnswers, type Route, route } from "../route.ts";
import type { FileBody } from "../viewCache.ts";
import { none, operationParams, planParams } from "./parameters.ts";
import { viewOr } from "./plans.ts";
import { nothingPublished } from "./publications.ts";

const dayOf = { crewId: crewIdSchema, date: localDateSchema };
export const lookQuery = z.object({
  size: z.enum(paperSizes).default("a4").describe("of the paper"),
  units: z.enum(unitSystems).default("metric").describe("us: acres, gallons, pounds, miles, degrees Fahrenheit"),
});
export const lookOf = ({ size, units }: z.output<typeof lookQuery>): Look => ({ size, measures: measuresOf[units] });

type Made = FileBody | null | Promise<FileBody | null>;
type Make = (planned: Planned, source: PaperSource) => Made;

/** A file of any plan, kept under what it says of itself: a plan that is published meanwhile is another paper. */
async function ofPlan(
  { store, views }: ApiParts,
  planId: string,
  key: string,
  what: string,
  make: Make,
): Promise<Answer> {
  const source = await planSource(store, planId);
  if (source === null) return unknownThing("plan");
  const view = await views.get(`${key} ${planId} ${source.publication} ${source.latest}`, async () => {
    const found = await planWithOperation(store, planId);
    return found && make(found, source);
  });
  return viewOr(view, what);
}

/** A file of what crews have been told last. */
async function ofPublished(
  { store, views }: ApiParts,
  { operationId, crewId, date }: { operationId: string; crewId: string; date: string },
  key: string,
  make: Make,
): Promise<Answer> {
  const publication = await store.latestPublication(operationId);
  if (publication === null) return nothingPublished;
  const view = await views.get(`published ${key} ${publication.id} ${crewId} ${date}`, async () => {
    const found = await planWithOperation(store, publication.planId);
    return found && make(found, publishedSource(publication));
  });
  if (view === null) return refuse(404, `Crew ${crewId} does not go out on ${date}, as published.`, []);
  return { kind: "view", view };
}

/** With what the checker said, of which the week tells. */
function ofWeek(
  parts: ApiParts,
  planId: string,
  key: string,
  make: (planned: Planned, report: Parameters<typeof tableFile>[1], source: PaperSource) => Made,
): Promise<Answer> {
  return ofPlan(parts, planId, key, "plan", async (planned, source) => {
    const report = await parts.store.checkReport(planId);
    return report && make(planned, report, source);
  });
}

const capital = (word: string) => word.slice(0, 1).toUpperCase() + word.slice(1);

const sheetRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/plans/{planId}/crews/{crewId}/days/{date}/sheet.pdf",
    id: "planSheetPdf",
    summary: "A crew's day of a plan on paper",
    params: planParams.extend(dayOf),
    query: lookQuery,
    body: null,
    answers: { 200: fileAnswers("The sheet", "application/pdf") },
    problems: [404],
    handle: (parts, { params: { planId, crewId, date }, query }) =>
      ofPlan(parts, planId, `sheet ${crewId} ${date} ${query.size} ${query.units}`, "crew-day", (planned, source) =>
        sheetFile(planned, crewId, date, source, lookOf(query)),
      ),
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/days/{date}/sheet.pdf",
    id: "crewDaySheetPdf",
    summary: "A crew's day on paper, as published",
    params: operationParams.extend(dayOf),
    query: lookQuery,
    body: null,
    answers: { 200: fileAnswers("The sheet", "application/pdf") },
    problems: [404],
    handle: (parts, { params, query }) =>
      ofPublished(parts, params, `sheet ${query.size} ${query.units}`, (planned, source) =>
        sheetFile(planned, params.crewId, params.date, source, lookOf(query)),
      ),
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/week.pdf",
    id: "weekPdf",
    summary: "The week on paper: crews by days, and what is not planned",
    params: planParams,
    query: lookQuery,
    body: null,
    answers: { 200: fileAnswers("The week", "application/pdf") },
    problems: [404],
    handle: (parts, { params: { planId }, query }) =>
      ofWeek(parts, planId, `week ${query.size} ${query.units}`, (planned, report, source) =>
        weekFile(planned, report, source, lookOf(query)),
      ),
  }),
];

const mapRoutesOf = (format: MapFormat): readonly Route[] => [
  route({
    method: "get",
    path: `/api/plans/{planId}/crews/{crewId}/days/{date}/map.${format}`,
    id: `planDay${capital(format)}`,
    summary: `A crew's day of a plan for other programs: fields, passes, route (${format})`,
    params: planParams.extend(dayOf),
    query: none,
    body: null,
    answers: { 200: fileAnswers("The file", mapFormats[format].mediaType) },
    problems: [404],
    handle: (parts, { params: { planId, crewId, date } }) =>
      ofPlan(parts, planId, `${format} ${crewId} ${date}`, "crew-day", (planned, source) =>
        dayMapFile(planned, crewId, date, source, format),
      ),
  }),

  route({
    method: "get",
    path: `/api/operations/{operationId}/crews/{crewId}/days/{date}/map.${format}`,
    id: `crewDay${capital(format)}`,
    summary: `A crew's day as published for other programs: fields, passes, route (${format})`,
    params: operationParams.extend(dayOf),
    query: none,
    body: null,
    answers: { 200: fileAnswers("The file", mapFormats[format].mediaType) },
    problems: [404],
    handle: (parts, { params }) =>
      ofPublished(parts, params, format, (planned, source) =>
        dayMapFile(planned, params.crewId, params.date, source, format),
      ),
  }),

  route({
    method: "get",
    path: `/api/plans/{planId}/fields.${format}`,
    id: `fields${capital(format)}`,
    summary: `The week's fields with what becomes of them, for other programs (${format})`,
    params: planParams,
    query: none,
    body: null,
    answers: { 200: fileAnswers("The file", mapFormats[format].mediaType) },
    problems: [404],
    handle: (parts, { params: { planId } }) =>
      ofPlan(parts, planId, `fields ${format}`, "plan", (planned, source) => fieldsFile(planned, source, format)),
  }),
];

const tableWords: Readonly<Record<WeekTableName, readonly [id: string, summary: string]>> = {
  stops: ["stopsCsv", "The week's stops as a table"],
  orders: ["ordersCsv", "Orders with what becomes of them, as a table"],
  conflicts: ["conflictsCsv", "What is not planned and why, as a table"],
  "crew-days": ["crewDaysCsv", "Hours, hectares and road of every crew-day, as a table"],
};

const tableRoute = (table: WeekTableName): Route =>
  route({
    method: "get",
    path: `/api/plans/{planId}/${table}.csv`,
    id: tableWords[table][0],
    summary: tableWords[table][1],
    params: planParams,
    query: none,
    body: null,
    answers: { 200: fileAnswers("The table (RFC 4180)", "text/csv") },
    problems: [404],
    handle: (parts, { params: { planId } }) =>
      ofWeek(parts, planId, `table ${table}`, (planned, report) => tableFile(planned, report, table)),
  });

export const paperRoutes: readonly Route[] = [
  ...sheetRoutes,
  ...mapFormatNames.flatMap(mapRoutesOf),
  ...weekTableNames.map(tableRoute),
];
