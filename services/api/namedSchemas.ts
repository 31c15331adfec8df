import type { z } from "zod";
import { caseSetDocumentSchema } from "../../shared/cases/caseSet.ts";
import { comparisonSchema } from "../../shared/cases/comparison.ts";
import { remediesSchema } from "../../shared/cases/remedy.ts";
import { applicationRecordSchema } from "../../shared/contracts/applicationRecords.ts";
import { bottlenecksSchema } from "../../shared/contracts/bottlenecks.ts";
import { planRequestSchema } from "../../shared/contracts/planRequests.ts";
import { problemSchema } from "../../shared/contracts/problem.ts";
import { toldStudySchema } from "../../shared/contracts/studies.ts";
import { crewSheetSchema, weekViewSchema } from "../../shared/contracts/views.ts";
import { keptReportSchema, workReportSchema } from "../../shared/done/workReport.ts";
import { fieldsSchema, multiPolygonSchema, sensitiveSchema } from "../../shared/model/field.ts";
import { fleetSchema } from "../../shared/model/fleet.ts";
import { operationSchema } from "../../shared/model/operation.ts";
import { listResources } from "../../shared/model/resources.ts";
import { settingsSchema } from "../../shared/model/settings.ts";
import { weatherStepSchema } from "../../shared/model/weather.ts";
import { conflictSchema, planSchema } from "../../shared/plan/plan.ts";
import { joinedWords } from "./resourceIds.ts";

const names: readonly (readonly [z.ZodType, string])[] = [
  [problemSchema, "Problem"],
  [operationSchema, "Operation"],
  [settingsSchema, "Settings"],
  [fieldsSchema, "Fields"],
  [sensitiveSchema, "SensitivePlaces"],
  ...listResources.map(({ entrySchema, one }) => [entrySchema, joinedWords(one)] as const),
  [fleetSchema, "Fleet"],
  [weatherStepSchema, "WeatherStep"],
  [multiPolygonSchema, "Ground"],
  [planSchema, "Plan"],
  [conflictSchema, "Conflict"],
  [planRequestSchema, "PlanRequest"],
  [weekViewSchema, "Week"],
  [crewSheetSchema, "CrewSheet"],
  [caseSetDocumentSchema, "CaseSet"],
  [toldStudySchema, "Study"],
  [comparisonSchema, "Comparison"],
  [remediesSchema, "Remedies"],
  [bottlenecksSchema, "Bottlenecks"],
  [workReportSchema, "Report"],
  [keptReportSchema, "KeptReport"],
  [applicationRecordSchema, "ApplicationRecord"],
];
const nameOf = new Map(names);

/** Where a schema stands in the document, when it has a name there; one with another description is still it. */
export function schemaName(schema: z.ZodType): { readonly name: string; readonly named: z.ZodType } | null {
  for (let one: z.ZodType | undefined = schema; one !== undefined; one = one._zod.parent as z.ZodType | undefined) {
    const name = nameOf.get(one);
    if (name !== undefined) return { name, named: one };
  }
  return null;
}

export const namedSchemas: readonly z.ZodType[] = names.map(([schema]) => schema);
