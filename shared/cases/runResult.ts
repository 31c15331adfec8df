import { z } from "zod";
import { localDateSchema, positive } from "../model/quantities.ts";
import { conflictKinds } from "../plan/plan.ts";

/** Parts of a week's margin: what growers pay for the hectares done, and what doing them costs. What is owned costs the same whatever is done, and is reckoned apart. */
export const moneySchema = z.object({
  earnedCents: z.number().describe("price times hectares done"),
  driveCents: z.number(),
  labourCents: z.number(),
  overtimeCents: z.number(),
  runningCents: z.number(),
  lodgingCents: z.number(),
  marginCents: z.number().describe("earned, less all of these"),
});

export const usedThings = ["crew", "aircraft", "tender", "charger"] as const;
export const usedSchema = z.object({
  thing: z.enum(usedThings),
  id: z.string().min(1).describe("of aircraft the type: those of a type at a base are one entry"),
  name: z.string().min(1),
  baseId: z.string().min(1),
  thereMin: z
    .number()
    .describe("minutes over the week in which it could have been out, of crews the duty that they may do"),
  usedMin: z.number().describe("minutes out, of crews of duty"),
});

export const runKeySchema = z.object({
  caseId: z.string().min(1),
  seed: z.number().int().min(0),
  week: z.number().int().min(0).optional().describe("number of the sampled week; left out: the operation's own week"),
});

/** What one plan of one case comes to. */
export const runResultSchema = z.object({
  firstDay: localDateSchema,
  days: positive,
  servedHa: z.number(),
  orderedHa: z.number().describe("of all orders, less what buffers take"),
  orders: z.number().int(),
  ordersDone: z.number().int().describe("all of it"),
  ordersInTime: z
    .number()
    .int()
    .describe("all of it by the end of its preferred date; of an order without one by its latest"),
  conflicts: z.array(
    z.object({
      kind: z.enum(conflictKinds),
      orders: z.number().int(),
      areaHa: z.number().describe("hectares not planned"),
    }),
  ),
  roadKm: z.number(),
  dutyMin: z.number(),
  workMin: z.number().describe("of crews at work, without pauses"),
  openHoursPerOrder: z
    .number()
    .describe("hours of the week's days in which an order was open for some aircraft that there is, mean over orders"),
  money: moneySchema,
  used: z.array(usedSchema),
});

/** A run that does not come to a good plan is told, not dropped. */
export const runOutcomeSchema = z.discriminatedUnion("status", [
  z.object({ status: z.literal("planned"), key: runKeySchema, result: runResultSchema }),
  z.object({ status: z.literal("failed"), key: runKeySchema, message: z.string().min(1).describe("for people") }),
]);

export type Money = z.infer<typeof moneySchema>;
export type Used = z.infer<typeof usedSchema>;
export type RunKey = z.infer<typeof runKeySchema>;
export type RunResult = z.infer<typeof runResultSchema>;
export type RunOutcome = z.infer<typeof runOutcomeSchema>;
