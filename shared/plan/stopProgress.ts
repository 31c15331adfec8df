import { z } from "zod";
import { crewIdSchema, localDateSchema, orderIdSchema } from "../model/quantities.ts";
import { blockIdSchema } from "./plan.ts";

export const stopStates = ["notBegun", "running", "stopped", "finished"] as const;

/** How far a stop of a published plan has come, as its crew has reported it. */
export const stopProgressSchema = z.object({
  blockId: blockIdSchema,
  orderId: orderIdSchema,
  crewId: crewIdSchema,
  date: localDateSchema.describe("local date of the shift"),
  state: z.enum(stopStates).describe("stopped: begun and left before its end"),
  startedAt: z.iso.datetime().nullable().describe("when its work began"),
  endedAt: z.iso.datetime().nullable().describe("when its work was finished or stopped"),
  doneHa: z.number().min(0).describe("hectares done so far"),
});
export type StopProgress = z.infer<typeof stopProgressSchema>;
