import { z } from "zod";
import { caseSetDocumentSchema } from "../cases/caseSet.ts";
import { operationKeySchema, operationSummarySchema } from "./operations.ts";
import { nextSchema } from "./paging.ts";

export const caseSetKeySchema = z.uuid().describe("id of a stored set of cases");

export const caseSetSummarySchema = operationSummarySchema.extend({
  id: caseSetKeySchema,
  operationId: operationKeySchema,
  name: z.string().min(1).describe("name of the document"),
});

export const caseSetListSchema = z.object({
  caseSets: z.array(caseSetSummarySchema).describe("by name"),
  next: nextSchema,
});

export const caseSetVersionSchema = caseSetSummarySchema.extend({
  version: z.number().int().positive(),
  document: z.unknown().meta({ standsFor: caseSetDocumentSchema }),
});

export const caseSetAnswerSchema = z.object({ caseSet: caseSetSummarySchema });

export type CaseSetSummary = z.infer<typeof caseSetSummarySchema>;
export type CaseSetVersion = z.infer<typeof caseSetVersionSchema>;
