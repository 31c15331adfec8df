import { z } from "zod";
import { operationSchema } from "../model/operation.ts";
import { nextSchema } from "./paging.ts";

export const operationKeySchema = z.uuid().describe("id of a stored operation");

export const operationSummarySchema = z.object({
  id: operationKeySchema,
  name: z.string().min(1).describe("settings.name of the document; the same name is the same operation"),
  version: z.number().int().positive().describe("the latest version"),
  digest: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .describe("SHA-256 of the document, its members in sorted order"),
  createdAt: z.iso.datetime().describe("when this version was imported"),
});

export const operationListSchema = z.object({
  operations: z.array(operationSummarySchema).describe("by name"),
  next: nextSchema,
});

export const operationVersionSchema = operationSummarySchema.extend({
  version: z.number().int().positive(),
  document: operationSchema.describe("the operation with all defaults filled in"),
});

export const operationVersionEntrySchema = operationSummarySchema.pick({ version: true, digest: true }).extend({
  createdAt: z.iso.datetime(),
  by: z
    .object({ kind: z.string().min(1).describe("a person, a token or the service itself"), name: z.string() })
    .nullable()
    .describe("who made it; null where nobody wrote that down yet"),
  action: z.string().nullable().describe("id of the call by which it was made"),
  resource: z.string().nullable().describe("what was changed by itself: its name in addresses; null: the whole"),
  key: z.string().nullable().describe("which one of it, where there are several"),
  changed: z.array(z.string()).describe("members of the document that the version before had not or other"),
});

export const operationVersionListSchema = z.object({
  versions: z.array(operationVersionEntrySchema).describe("newest first"),
  next: nextSchema,
});

export const importAnswerSchema = z.object({
  operation: operationSummarySchema,
  defaultsUsed: z
    .array(
      z.object({
        path: z.array(z.union([z.string(), z.number()])).describe("* stands for any place in a list"),
        value: z.unknown(),
        count: z.number().int().positive().describe("how many times it was filled in"),
      }),
    )
    .describe("every value that was not given and so taken from the default"),
});

export type OperationSummary = z.infer<typeof operationSummarySchema>;
export type OperationVersionEntry = z.infer<typeof operationVersionEntrySchema>;
export type OperationVersion = z.infer<typeof operationVersionSchema>;
