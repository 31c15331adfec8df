import { z } from "zod";
import { lockSchema } from "../model/locks.ts";
import { crewIdSchema, localDateSchema } from "../model/quantities.ts";
import { blockIdSchema } from "../plan/plan.ts";
import { lockKinds } from "../plan/planLocks.ts";
import { operationSummarySchema } from "./operations.ts";
import { checkReportSchema } from "./plans.ts";

export const lockVersionSchema = z.coerce
  .number()
  .int()
  .positive()
  .max(2_147_483_647)
  .describe("the latest version of the operation that you know");

export const planLockBodySchema = z
  .strictObject({
    crewId: crewIdSchema,
    date: localDateSchema.describe("local date of the shift"),
    what: z
      .enum(lockKinds)
      .describe(
        "asItStands: outfit, stops, their minutes and order, and nothing else; stops: that they are done on that day; outfit: what the crew takes out",
      ),
    blockIds: z.array(blockIdSchema).min(1).max(200).optional().describe("of the stops only these; with stops"),
    version: lockVersionSchema,
  })
  .refine(({ what, blockIds }) => blockIds === undefined || what === "stops", {
    path: ["blockIds"],
    message: "nothing, or what: stops",
  });

export const planLockAnswerSchema = z.object({
  operation: operationSummarySchema.describe("with the locks as they are now"),
  lock: lockSchema.nullable().describe("what is locked of the crew's day now"),
  check: checkReportSchema.describe("the checker's verdict of the plan under it"),
});
