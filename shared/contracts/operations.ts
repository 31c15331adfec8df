import { z } from "zod";
import { operationSchema } from "../model/operation.ts";
import { localDateTimeSchema } from "../model/quantities.ts";
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

const defaultsUsedSchema = z
  .array(
    z.object({
      path: z.array(z.union([z.string(), z.number()])).describe("* stands for any place in a list"),
      value: z.unknown(),
      count: z.number().int().positive().describe("how many times it was filled in"),
    }),
  )
  .describe("every value that was not given and so taken from the default");

export const importAnswerSchema = z.object({ operation: operationSummarySchema, defaultsUsed: defaultsUsedSchema });

/** Files as they lie in a scenario's folder; `scenarios/README.md` tells what stands in them. */
export const operationFilesSchema = z.strictObject({
  files: z
    .record(z.string().min(1).max(200), z.string())
    .refine((files) => Object.keys(files).length <= 50, "at most 50 files")
    .describe("texts by the names of their files, as operation.json, orders.csv, weather.csv"),
});

export const changedFilesSchema = operationFilesSchema.extend({
  forecastIssued: localDateTimeSchema.optional().describe("of new weather: when the forecast was issued"),
});

export const lookQuerySchema = z.object({
  look: z.enum(["yes"]).optional().describe("yes: tell only what would come of it; nothing is stored"),
});

export const filesAnswerSchema = z.object({
  stored: z.boolean().describe("false: this was a look, or nothing has changed"),
  operation: operationSummarySchema
    .nullable()
    .describe("as it is stored now; null: this was a look at what is not there yet"),
  name: z.string().min(1).describe("of the operation"),
  changes: z
    .array(
      z.object({
        name: z.string().describe("kind of thing, as in addresses"),
        added: z.array(z.string()),
        removed: z.array(z.string()),
        changed: z.array(z.string()),
        same: z.number().int().min(0).describe("how many stay as they are"),
      }),
    )
    .describe("what is otherwise than in the latest version, kind by kind"),
  weather: z
    .object({ stations: z.array(z.string()), from: z.string(), to: z.string() })
    .nullable()
    .describe(
      "what the weather covers then, from the start of its first step to that of its last; null: there is none",
    ),
  defaultsUsed: defaultsUsedSchema,
});

export type OperationSummary = z.infer<typeof operationSummarySchema>;
export type OperationVersionEntry = z.infer<typeof operationVersionEntrySchema>;
export type OperationVersion = z.infer<typeof operationVersionSchema>;
export type FilesAnswer = z.infer<typeof filesAnswerSchema>;
