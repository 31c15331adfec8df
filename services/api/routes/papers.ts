import { z } from "zod";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import { unitSystems } from "../../../shared/units/units.ts";
import { type MapFormat, mapFormatNames, mapFormats } from "../../papers/geo/mapFiles.ts";
import { paperSizes } from "../../papers/page/paper.ts";
import type { PaperSource } from "../../papers/page/source.ts";
import { type WeekTableName, weekTableNames } from "../../papers/tables/weekTables.ts";
import type { Wanted } from "../../views/viewMaker.ts";
import { planSource, publishedSource } from "../paperSource.ts";
import { viewOfPlan } from "../planViews.ts";
import { unknownThing } from "../problems.ts";
import { publishedDay } from "../publishedDay.ts";
import { type Answer, type ApiParts, fileAnswers, type Route, route } from "../route.ts";
import { none, operationParams, planParams } from "./parameters.ts";
import { viewOr } from "./plans.ts";

const dayOf = { crewId: crewIdSchema, date: localDateSchema };
export const lookQuery = z.object({
  size: z.enum(paperSizes).default("a4").describe("of the paper"),
  units: z.enum(unitSystems).default("metric").describe("us: acres, gallons, pounds, miles, degrees Fahrenheit"),
});

/** A file of any plan, which says of itself what became of the plan: one that is published meanwhile is another paper. */
async function ofPlan(
  parts: ApiParts,
  planId: string,
  what: string,
  wantedOf: (source: PaperSource) => Wanted,
): Promise<Answer> {
  const source = await planSource(parts.store, planId);
  if (source === null) return unknownThing("plan");
  return viewOr(await viewOfPlan(parts, planId, wantedOf(source)), what);
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
      ofPlan(parts, planId, "crew-day", (source) => ({ kind: "sheetPdf", crewId, date, source, ...query })),
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
      publishedDay(parts, params, ({ crewId, date }, publication) => {
        return { kind: "sheetPdf", crewId, date, source: publishedSource(publication), ...query };
      }),
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
      ofPlan(parts, planId, "plan", (source) => ({ kind: "weekPdf", source, ...query })),
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
      ofPlan(parts, planId, "crew-day", (source) => ({ kind: "dayFile", format, crewId, date, source })),
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
      publishedDay(parts, params, ({ crewId, date }, publication) => {
        return { kind: "dayFile", format, crewId, date, source: publishedSource(publication) };
      }),
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
      ofPlan(parts, planId, "plan", (source) => ({ kind: "fieldsFile", format, source })),
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
    handle: async (parts, { params: { planId } }) =>
      viewOr(await viewOfPlan(parts, planId, { kind: "table", table }), "plan"),
  });

export const paperRoutes: readonly Route[] = [
  ...sheetRoutes,
  ...mapFormatNames.flatMap(mapRoutesOf),
  ...weekTableNames.map(tableRoute),
];
