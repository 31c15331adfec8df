import { z } from "zod";
import { operationKeySchema } from "./operations.ts";
import { lineSchema } from "./people.ts";

const cursorSchema = z
  .string()
  .regex(/^[0-9]{1,18}$/)
  .describe("where the page before has ended");

export const auditQuerySchema = z.object({
  operation: operationKeySchema.optional().describe("only what touched this operation"),
  who: lineSchema.optional().describe("only what was done by somebody of this id or this name"),
  action: lineSchema.optional().describe("only this action, by the operationId of its route"),
  from: z.iso
    .datetime()
    .refine((text) => text >= "0001", { error: "a year from 1 on" })
    .optional()
    .describe("only from then on"),
  cursor: cursorSchema.optional(),
  limit: z.coerce.number().int().min(1).max(500).default(100),
});

export const auditEntrySchema = z.object({
  id: z.string(),
  at: z.iso.datetime(),
  by: z.object({
    kind: z.enum(["person", "token", "crewLink", "service"]),
    id: z.string().nullable(),
    name: z.string(),
  }),
  action: z.string(),
  callId: z.string().nullable().describe("of the call, as in the log"),
  operationId: operationKeySchema.nullable(),
  thingId: z.string().nullable().describe("of what was changed"),
  details: z.record(z.string(), z.unknown()),
});

export const auditPageSchema = z.object({
  entries: z.array(auditEntrySchema).describe("newest first"),
  next: cursorSchema.nullable().describe("cursor of the next page; null: this is the last"),
});

export type AuditQuery = z.infer<typeof auditQuerySchema>;
export type AuditPage = z.infer<typeof auditPageSchema>;
