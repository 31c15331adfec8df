import { z } from "zod";
import { byHandSchema } from "../done/applicationRecord.ts";
import { missingSchema, originSchema } from "../done/completeness.ts";
import { recordedSchema } from "../done/recorded.ts";
import { operationKeySchema } from "./operations.ts";
import { nextSchema } from "./paging.ts";

export const recordKeySchema = z.uuid().describe("id of an application record");

export const applicationRecordSchema = z.object({
  id: recordKeySchema,
  operationId: operationKeySchema,
  version: z.number().int().positive().describe("earlier ones stay readable"),
  createdAt: z.iso.datetime().describe("when this version was made"),
  byName: z.string().min(1).describe("who made this version"),
  reason: z.string().describe("reported: by what a crew has reported; else what the person said who changed it"),
  record: recordedSchema.describe("what stands"),
  byHand: byHandSchema.describe("what of it a person has put over what was reported"),
  complete: z.boolean().describe("whether all is there that the rules ask for"),
  missing: z.array(missingSchema).describe("what is not there; nothing is made up"),
  findings: z.array(z.string()).describe("what an applicator has to look at"),
  origins: z.array(originSchema).describe("where each field comes from, and who asks for it"),
});

export const applicationRecordListSchema = z.object({
  applicationRecords: z.array(applicationRecordSchema).describe("by date"),
  next: nextSchema,
});

export const recordChangeSchema = z.strictObject({
  byHand: byHandSchema.describe("all that persons have put over what was reported: takes the place of what was there"),
  reason: z.string().trim().min(1).max(500).describe("why, for whoever reads the earlier versions"),
});

export type ApplicationRecord = z.infer<typeof applicationRecordSchema>;
