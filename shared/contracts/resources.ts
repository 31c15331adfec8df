import { z } from "zod";
import { nextSchema } from "./paging.ts";

/** Entries of one of the operation's lists. */
export const resourceListSchema = (entrySchema: z.ZodType) =>
  z.object({
    version: z.number().int().positive().describe("of the operation"),
    total: z.number().int().min(0).describe("how many there are that fit the filters"),
    entries: z
      .array(
        z.object({
          key: z.string().describe("as in the entry's address"),
          etag: z.string().describe("of the entry alone, for If-Match, where it stands in quotes"),
          entry: entrySchema,
        }),
      )
      .describe("in the order of the document"),
    next: nextSchema,
  });
