import { z } from "zod";
import {
  aircraftIdSchema,
  aircraftTypeIdSchema,
  chargerIdSchema,
  crewIdSchema,
  localDateSchema,
  localDateTimeSchema,
  orderIdSchema,
  tenderIdSchema,
} from "./quantities.ts";

export const lockedOutfitSchema = z
  .strictObject({
    aircraftIds: z.array(aircraftIdSchema).min(1).optional().describe("these aircraft and no others"),
    tenderId: tenderIdSchema.optional().describe("this tender"),
    chargerIds: z.array(chargerIdSchema).optional().describe("these chargers and no others"),
    batterySets: z
      .array(
        z.strictObject({
          aircraftTypeId: aircraftTypeIdSchema.describe("the type that the sets fit"),
          sets: z.number().int().positive().max(500).describe("how many"),
        }),
      )
      .optional()
      .describe("so many battery sets, no more and no fewer"),
  })
  .describe(
    "what the crew takes out on that day, if it goes out: nobody else does; what is left out here the planner chooses",
  );

export const lockedStopSchema = z.strictObject({
  orderId: orderIdSchema.describe("the order"),
  part: z
    .number()
    .int()
    .positive()
    .optional()
    .describe("one block of it, by the number behind # in a plan; left out: all of them"),
  parts: z
    .number()
    .int()
    .positive()
    .optional()
    .describe("with part: of so many blocks; the order is cut into as many again, or the lock does not hold"),
  startAt: localDateTimeSchema
    .optional()
    .describe("its work begins at this minute, as 2027-06-07T05:30; of several blocks that of the first"),
});

/** What the dispatcher has fixed for one crew on one day. */
export const lockSchema = z.strictObject({
  crewId: crewIdSchema.describe("the crew"),
  date: localDateSchema.describe("local date of its shift"),
  outfit: lockedOutfitSchema.optional(),
  stops: z
    .array(lockedStopSchema)
    .default([])
    .describe("what the crew does on that day, and nobody else or on another day"),
  inOrder: z.boolean().default(false).describe("the stops come one after the other as listed; others may lie between"),
  freeFrom: localDateTimeSchema
    .optional()
    .describe(
      "the crew is busy up to then: beside work that a lock says to begin before, it begins nothing before; left out: planFrom of the settings alone",
    ),
  nothingElse: z.boolean().default(false).describe("the crew does no other work on that day"),
});
export const locksSchema = z.array(lockSchema);

export type LockedStop = z.infer<typeof lockedStopSchema>;
export type Lock = z.infer<typeof lockSchema>;
