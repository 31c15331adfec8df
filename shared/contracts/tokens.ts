import { z } from "zod";
import { roleSchema } from "./access.ts";
import { lineSchema } from "./people.ts";

export const tokenKeySchema = z.uuid().describe("id of a token");

export const newTokenSchema = z.object({
  name: lineSchema.describe("what it is for"),
  roles: z
    .array(roleSchema)
    .min(1)
    .max(4)
    .optional()
    .describe("those of yours that it may use; left out: all that you have now"),
  readOnly: z.boolean().default(false).describe("for reading only"),
  days: z.number().int().min(1).max(366).default(90).describe("until it expires"),
});

export const tokenSchema = z.object({
  id: tokenKeySchema,
  name: z.string(),
  roles: z.array(roleSchema),
  readOnly: z.boolean(),
  createdAt: z.iso.datetime(),
  expiresAt: z.iso.datetime(),
  revokedAt: z.iso.datetime().nullable(),
  lastUsedAt: z.iso.datetime().nullable().describe("to the minute"),
});

export const tokenListSchema = z.object({ tokens: z.array(tokenSchema) });

export const madeTokenSchema = z.object({
  token: tokenSchema,
  secret: z
    .string()
    .nullable()
    .describe("told once; send it as `Authorization: Bearer`; null where the same call was answered before"),
});

export type Token = z.infer<typeof tokenSchema>;
