import { z } from "zod";
import { localDateSchema } from "../model/quantities.ts";
import { conflictSchema, planSchema, scoreSchema } from "../plan/plan.ts";
import { dayMapSchema } from "./maps.ts";
import { operationKeySchema } from "./operations.ts";
import { planKeySchema } from "./planRequests.ts";
import { crewSheetSchema } from "./views.ts";

export const breachSchema = z.looseObject({
  rule: z.string().min(1),
  sentence: z.string().min(1),
});

/** What the independent checker said of a plan. */
export const checkReportSchema = z.object({
  ok: z.boolean(),
  checked: z.record(z.string(), z.number().int().min(0)).describe("how many times each rule was examined"),
  breaches: z.array(breachSchema),
});

export const planOrigins = ["planned", "replanned", "moved"] as const;
export const planStates = ["draft", "published", "superseded"] as const;

export const planSummarySchema = z.object({
  id: planKeySchema,
  operationId: operationKeySchema,
  version: z.number().int().positive().describe("the version of the operation that it is a plan of"),
  origin: z.enum(planOrigins).describe("moved: by hand"),
  parentId: planKeySchema.nullable().describe("the plan that it was made of by hand"),
  state: z
    .enum(planStates)
    .describe("published: what crews have been told; superseded: what they had been told before"),
  createdAt: z.iso.datetime(),
});

export const storedPlanSchema = planSummarySchema.extend({ plan: planSchema });

/** A plan in a list: what it comes to, without what is in it. */
export const listedPlanSchema = planSummarySchema.extend({
  totals: scoreSchema.pick({ totalCents: true, servedHa: true, orderedHa: true, roadKm: true, dutyMin: true }),
});

export const planListSchema = z.object({
  plans: z.array(listedPlanSchema).describe("newest first"),
  next: z.string().nullable().describe("for `cursor` of the next page; null: there is none"),
});

export const mostNoteCharacters = 2000;

export const publishBodySchema = z.strictObject({
  after: z
    .number()
    .int()
    .min(0)
    .max(2_147_483_647)
    .describe("number of the publication that you know as the latest; 0: none yet"),
  note: z.string().max(mostNoteCharacters).default("").describe("for the crews"),
});

/** A plan that crews were told. */
export const publicationSchema = z.object({
  id: z.uuid(),
  operationId: operationKeySchema,
  number: z.number().int().positive().describe("1 for the operation's first"),
  planId: planKeySchema,
  note: z.string().describe("for the crews"),
  byName: z.string().min(1).describe("who published it"),
  createdAt: z.iso.datetime(),
});

export const publicationListSchema = z.object({
  publications: z.array(publicationSchema).describe("newest first"),
  next: z.string().nullable().describe("for `cursor` of the next page; null: there is none"),
});

export const publishedPlanSchema = z.object({ publication: publicationSchema, plan: planSummarySchema });

/** What crews are told of a publication. */
const toldPublicationSchema = publicationSchema.pick({ number: true, note: true, byName: true, createdAt: true });

export const crewDayListSchema = z.object({
  publication: toldPublicationSchema.nullable().describe("null: crews have not been told anything yet"),
  days: z
    .array(
      z.object({
        date: localDateSchema.describe("local date of the shift"),
        leave: z.string().describe("when it leaves its base, ISO 8601"),
        back: z.string().describe("when it is back"),
        stops: z.number().int().min(0),
        areaHa: z.number().min(0),
      }),
    )
    .describe("the days on which the crew goes out, by date"),
});

export const publishedSheetSchema = z.object({ publication: toldPublicationSchema, sheet: crewSheetSchema });

export const publishedMapSchema = z.object({ publication: toldPublicationSchema, map: dayMapSchema });

export const conflictListSchema = z.object({ conflicts: z.array(conflictSchema) });

export type PlanOrigin = (typeof planOrigins)[number];
export type ListedPlan = z.infer<typeof listedPlanSchema>;
export type PlanState = (typeof planStates)[number];
export type PlanSummary = z.infer<typeof planSummarySchema>;
export type Publication = z.infer<typeof publicationSchema>;
export type CrewDayList = z.infer<typeof crewDayListSchema>;
export type StoredPlan = z.infer<typeof storedPlanSchema>;
/** As it was written, perhaps by an earlier release with fewer rules. */
export type StoredReport = z.infer<typeof checkReportSchema>;
