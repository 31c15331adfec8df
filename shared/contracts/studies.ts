import { z } from "zod";
import { casesFileSchema } from "../cases/cases.ts";
import { comparisonSchema } from "../cases/comparison.ts";
import { remediesSchema } from "../cases/remedy.ts";
import { orderIdSchema } from "../model/quantities.ts";
import { bottlenecksSchema } from "./bottlenecks.ts";
import { caseSetKeySchema } from "./caseSets.ts";
import { operationKeySchema } from "./operations.ts";
import { nextSchema } from "./paging.ts";
import { planKeySchema, planStatuses } from "./planRequests.ts";

export const studyKeySchema = z.uuid().describe("id of a study");

export const studyKinds = ["cases", "remedies", "bottlenecks"] as const;

/** Somebody waits for the others; these are worked when none of them waits. */
export const batchKinds: readonly StudyKind[] = ["cases"];

export const partFailureSchema = z.object({
  kind: z.enum(["crashed", "startedTooOften"]),
  message: z.string().min(1).describe("for people"),
});

export const studyFailureSchema = z.object({
  kind: z.enum(["partFailed", "conclusionFailed"]),
  message: z.string().min(1).describe("for people"),
  part: z.number().int().min(0).nullable().describe("which part failed, if it was one"),
});

export const studyProgressSchema = z.object({
  parts: z.number().int().positive().describe("how many runs the study is made of"),
  ended: z.number().int().min(0).describe("how many of them have ended, well or not"),
  failed: z.number().int().min(0).describe("how many of those have failed"),
  share: z.number().min(0).max(1).describe("how much of all the work is done"),
});

export const studySummarySchema = z.object({
  id: studyKeySchema,
  kind: z.enum(studyKinds),
  operationId: operationKeySchema,
  version: z.number().int().positive().describe("the version of the operation that is studied"),
  planId: planKeySchema.nullable().describe("the plan that is studied, if it is one"),
  caseSetId: caseSetKeySchema.nullable(),
  caseSetVersion: z.number().int().positive().nullable(),
  ask: z.record(z.string(), z.unknown()).describe("what was asked for, defaults filled in"),
  status: z.enum(planStatuses),
  progress: studyProgressSchema,
  failure: studyFailureSchema.nullable(),
  createdAt: z.iso.datetime(),
  startedAt: z.iso.datetime().nullable(),
  endedAt: z.iso.datetime().nullable(),
});

export const studySchema = studySummarySchema.extend({
  result: z.unknown().nullable().describe("what came of it; null until the study is done"),
});

/** What may be said beside the set of cases, for this study only. */
export const casesStudyBodySchema = z.strictObject({
  iterations: z
    .number()
    .int()
    .min(1)
    .max(100_000_000)
    .optional()
    .describe("iterations of each search, whatever the set says of its budget"),
  seeds: casesFileSchema.shape.seeds.unwrap().optional().describe("seeds of each case, whatever the set says"),
  weeks: z
    .number()
    .int()
    .min(1)
    .max(1000)
    .optional()
    .describe("sample so many weeks from the set's season, with one seed each unless seeds says otherwise"),
});

/** What is asked of a plan's remedies. */
export const remediesAskSchema = z.strictObject({
  orderId: orderIdSchema.optional().describe("only what helps this order; left out: all that the plan leaves out"),
  iterations: z.number().int().min(0).max(1_000_000).default(300).describe("of each search from the plan"),
  seed: z.number().int().min(0).max(4_294_967_295).default(1),
});

/** What is asked of a plan's bottlenecks. */
export const bottlenecksAskSchema = z.strictObject({
  seconds: z.number().positive().max(600).default(20).describe("for proving a bound"),
  tried: z.number().int().min(0).max(50).default(5).describe("units that would bring most: planned again with so many"),
  seeds: z.number().int().min(1).max(20).default(3).describe("searches with and without each of them"),
  iterations: z.number().int().min(1).max(1_000_000).default(3000).describe("of each of these searches"),
});

/** A study as it is told: its result by its kind. */
export const toldStudySchema = studySchema.extend({
  result: z
    .unknown()
    .describe("what came of it; null until the study is done")
    .meta({ standsFor: z.union([comparisonSchema, remediesSchema, bottlenecksSchema]).nullable() }),
});

export const studyListSchema = z.object({
  studies: z.array(studySummarySchema).describe("newest first, without their results"),
  next: nextSchema,
});

export type StudyKind = (typeof studyKinds)[number];
export type PartFailure = z.infer<typeof partFailureSchema>;
export type StudyFailure = z.infer<typeof studyFailureSchema>;
export type StudySummary = z.infer<typeof studySummarySchema>;
export type Study = z.infer<typeof studySchema>;
