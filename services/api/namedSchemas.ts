import { z } from "zod";
import { caseSetDocumentSchema } from "../../shared/cases/caseSet.ts";
import { importAnswerSchema, operationSummarySchema } from "../../shared/contracts/operations.ts";
import { planRequestSchema } from "../../shared/contracts/planRequests.ts";
import { checkReportSchema, planSummarySchema } from "../../shared/contracts/plans.ts";
import { studySummarySchema, toldStudySchema } from "../../shared/contracts/studies.ts";
import { crewSheetSchema, weekViewSchema } from "../../shared/contracts/views.ts";
import { fieldsSchema, sensitiveSchema } from "../../shared/model/field.ts";
import { fleetSchema, hireOfferSchema } from "../../shared/model/fleet.ts";
import { operationSchema } from "../../shared/model/operation.ts";
import { localDateSchema, localDateTimeSchema, orderIdSchema } from "../../shared/model/quantities.ts";
import { forecastSchema, listResources } from "../../shared/model/resources.ts";
import { roadSchema, settingsSchema } from "../../shared/model/settings.ts";
import { weatherStepSchema } from "../../shared/model/weather.ts";
import { conflictSchema, planSchema } from "../../shared/plan/plan.ts";
import { type JsonSchema, jsonSchema } from "./jsonSchema.ts";
import { joinedWords } from "./resourceIds.ts";

/** What stands in many places of the document, and is told once, under a name. */
const named: readonly (readonly [string, z.ZodType])[] = [
  ["Uuid", z.uuid()],
  ["Id", orderIdSchema],
  ["Instant", z.iso.datetime()],
  ["InstantWithOffset", z.iso.datetime({ offset: true })],
  ["LocalDate", localDateSchema],
  ["LocalDateTime", localDateTimeSchema],
  ...listResources.map(({ one, entrySchema }) => [joinedWords(one), entrySchema] as const),
  ["Fields", fieldsSchema],
  ["SensitivePlaces", sensitiveSchema],
  ["HireOffer", hireOfferSchema],
  ["Fleet", fleetSchema],
  ["WeatherStep", weatherStepSchema],
  ["Forecast", forecastSchema],
  ["Road", roadSchema],
  ["Settings", settingsSchema],
  ["Operation", operationSchema],
  ["OperationSummary", operationSummarySchema],
  ["ImportAnswer", importAnswerSchema],
  ["CaseSetDocument", caseSetDocumentSchema],
  ["PlanRequest", planRequestSchema],
  ["PlanSummary", planSummarySchema],
  ["Conflict", conflictSchema],
  ["Plan", planSchema],
  ["CheckReport", checkReportSchema],
  ["WeekView", weekViewSchema],
  ["CrewSheet", crewSheetSchema],
  ["StudySummary", studySummarySchema],
  ["Study", toldStudySchema],
];

/** What a place may say of its own beside the schema that it refers to: JSON Schema 2020-12, section 8.2.3.1. */
const ofThePlace = ["description", "default"] as const;

/** The same document, in which equal schemas are told once. Those of what is sent may differ, since defaults may be left out there. */
export function withNamedSchemas<Document extends { readonly components: { readonly schemas: JsonSchema } }>(
  document: Document,
): Document {
  const schemas = new Map(
    named.flatMap(([name, schema]) => [
      [`${name}AsSent`, jsonSchema(schema, "input")] as const,
      [name, jsonSchema(schema, "output")] as const,
    ]),
  );
  const nameOf = new Map([...schemas].map(([name, schema]) => [keyOf(schema), name]));
  const told: Record<string, unknown> = {};
  const open: string[] = [];
  const refer = (name: string) => {
    if (!(name in told)) open.push(name);
    told[name] ??= null;
    return `#/components/schemas/${name}`;
  };
  const referring = withReferences(document, nameOf, refer) as Document;
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    told[name] = membersWithReferences(schemas.get(name)!, nameOf, refer);
  }
  const inOrder = Object.fromEntries(Object.entries(told).sort(([a], [b]) => (a < b ? -1 : 1)));
  const { components } = referring;
  return { ...referring, components: { ...components, schemas: { ...inOrder, ...components.schemas } } };
}

function keyOf(schema: JsonSchema): string {
  const rest = Object.entries(schema).filter(([key]) => !ofThePlace.some((one) => one === key));
  return JSON.stringify(Object.fromEntries(rest));
}

type NameOf = ReadonlyMap<string, string>;
type Refer = (name: string) => string;

function withReferences(value: unknown, nameOf: NameOf, refer: Refer): unknown {
  if (Array.isArray(value)) return value.map((entry) => withReferences(entry, nameOf, refer));
  if (value === null || typeof value !== "object") return value;
  const object = value as JsonSchema;
  const name = "type" in object || "oneOf" in object || "anyOf" in object ? nameOf.get(keyOf(object)) : undefined;
  if (name === undefined) return membersWithReferences(object, nameOf, refer);
  const said = Object.entries(object).filter(([key]) => ofThePlace.some((one) => one === key));
  return { $ref: refer(name), ...Object.fromEntries(said) };
}

function membersWithReferences(object: JsonSchema, nameOf: NameOf, refer: Refer): JsonSchema {
  return Object.fromEntries(
    // Examples are no schemas.
    Object.entries(object).map(([key, inner]) => [
      key,
      key === "example" ? inner : withReferences(inner, nameOf, refer),
    ]),
  );
}
