import { z } from "zod";
import { crewIdSchema, localDateSchema } from "../model/quantities.ts";
import { blockIdSchema } from "../plan/plan.ts";

export const remarkKinds = [
  "clockAhead",
  "otherDay",
  "notStarted",
  "startedTwice",
  "notStopped",
  "afterFinished",
  "finishedTwice",
  "moreThanBlock",
  "lessThanBlock",
  "fewerThanBefore",
  "otherCrew",
  "notInPlan",
  "withdrawsUnknown",
  "withdrawsOthers",
  "withdrawsCorrection",
] as const;

/** Something about a report that does not go together with the rest. The report is kept all the same. */
export const remarkSchema = z.object({
  kind: z.enum(remarkKinds),
  reportId: z.uuid(),
  crewId: crewIdSchema.describe("whose report it is"),
  date: localDateSchema.describe("local date of its crew-day"),
  blockId: blockIdSchema.nullable(),
  sentence: z.string().min(1).describe("for people"),
});

export type Remark = z.infer<typeof remarkSchema>;
export type RemarkKind = Remark["kind"];
