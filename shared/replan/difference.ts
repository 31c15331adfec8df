import { z } from "zod";
import { crewIdSchema, fieldIdSchema, localDateSchema, orderIdSchema } from "../model/quantities.ts";
import { blockIdSchema } from "../plan/plan.ts";

export const changeReasons = [
  "done",
  "orderWithdrawn",
  "orderChanged",
  "orderNew",
  "missed",
  "restOfOrder",
  "crewOut",
  "thingOut",
  "limit",
  "locked",
  "makesRoom",
  "cannot",
  "roomNow",
  "saves",
  "byHand",
] as const;

export const stopPlaceSchema = z.object({
  crewId: crewIdSchema,
  crewName: z.string(),
  date: localDateSchema.describe("local date of the shift"),
  startAt: z.iso.datetime({ offset: true }).describe("when its work begins"),
  clock: z.string().describe("the same as a local time of day"),
});

const reasonShape = { reason: z.enum(changeReasons), sentence: z.string().min(1).describe("for people") };

export const stopChangeSchema = z.object({
  kind: z
    .enum(["done", "added", "dropped", "moved"])
    .describe("moved: to another crew or day, or to begin at another time beyond the tolerance"),
  blockId: blockIdSchema.describe(
    "by the name that it has in the plan of now; of what is not in it, in that of before",
  ),
  orderId: orderIdSchema,
  fieldId: fieldIdSchema,
  fieldName: z.string(),
  areaHa: z.number().positive(),
  before: stopPlaceSchema.nullable(),
  now: stopPlaceSchema.nullable(),
  ...reasonShape,
});

export const outfitChangeSchema = z.object({
  crewId: crewIdSchema,
  crewName: z.string(),
  date: localDateSchema,
  before: z.string(),
  now: z.string(),
  ...reasonShape,
});

const totalsSchema = z.object({
  stops: z.number().int().min(0),
  servedHa: z.number().min(0),
  totalCents: z.number().describe("score of the whole plan, cost of changes included; less is better"),
  changeCents: z.number(),
  roadKm: z.number().min(0),
});

export const planDifferenceSchema = z.object({
  counts: z.object({
    kept: z.number().int().min(0).describe("stops of both plans with the same crew, day and time"),
    done: z.number().int().min(0),
    moved: z.number().int().min(0),
    dropped: z.number().int().min(0),
    added: z.number().int().min(0),
    outfits: z.number().int().min(0).describe("crew-days of both plans with other aircraft or another tender"),
  }),
  sameDays: z.boolean().describe("whether both plans have the same days, so that their costs can be compared"),
  before: totalsSchema.describe("of the earlier plan, the days that the later one has"),
  now: totalsSchema,
  changes: z.array(stopChangeSchema).describe("by time"),
  outfits: z.array(outfitChangeSchema),
});

export type ChangeReason = (typeof changeReasons)[number];
export type StopPlace = z.infer<typeof stopPlaceSchema>;
export type StopChange = z.infer<typeof stopChangeSchema>;
export type OutfitChange = z.infer<typeof outfitChangeSchema>;
export type PlanDifference = z.infer<typeof planDifferenceSchema>;
