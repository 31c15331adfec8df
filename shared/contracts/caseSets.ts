import { z } from "zod";
import { casesFileSchema } from "../cases/cases.ts";
import { operationKeySchema, operationSummarySchema } from "./operations.ts";

export const caseSetKeySchema = z.uuid().describe("id of a stored set of cases");

/** What is sent and stored. */
export const caseSetDocumentSchema = z.strictObject({
  name: z
    .string()
    .min(1)
    .max(120)
    .describe("what people call the set; within an operation the same name is the same set"),
  cases: casesFileSchema.describe("the cases, as in a file of cases for the command line"),
});

export const caseSetSummarySchema = operationSummarySchema.extend({
  id: caseSetKeySchema,
  operationId: operationKeySchema,
  name: z.string().min(1).describe("name of the document"),
});

export const caseSetListSchema = z.object({ caseSets: z.array(caseSetSummarySchema).describe("by name") });

export const caseSetVersionSchema = caseSetSummarySchema.extend({
  version: z.number().int().positive(),
  document: z.unknown().meta({ standsFor: caseSetDocumentSchema }),
});

export const caseSetAnswerSchema = z.object({ caseSet: caseSetSummarySchema });

export type CaseSetDocument = z.infer<typeof caseSetDocumentSchema>;
export type CaseSetSummary = z.infer<typeof caseSetSummarySchema>;
export type CaseSetVersion = z.infer<typeof caseSetVersionSchema>;
