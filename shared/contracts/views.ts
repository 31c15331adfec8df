import { z } from "zod";
import { hazardKindSchema, localDateSchema } from "../model/quantities.ts";

/**
 * What the page and the sheet show (plan/weekView.ts, plan/crewSheet.ts), as far as others may count on it. More
 * members come along; they may change from release to release.
 */
export const weekViewSchema = z.looseObject({
  caution: z.string().min(1),
  operationName: z.string(),
  timeZone: z.string(),
  currency: z.string(),
  days: z.array(z.looseObject({ date: localDateSchema })),
  crews: z.array(z.looseObject({ id: z.string(), name: z.string(), days: z.array(z.looseObject({})) })),
  orders: z.array(z.looseObject({})),
  conflicts: z.array(
    z.looseObject({
      orderId: z.string(),
      blocks: z
        .array(
          z.looseObject({
            blockId: z.string(),
            part: z.number().int().positive(),
            parts: z.number().int().positive(),
            areaHa: z.number(),
          }),
        )
        .describe(
          "what of the order is not planned, as a move by hand may put it in; none where it has no ground to work",
        ),
    }),
  ),
  changes: z
    .array(z.looseObject({ kind: z.enum(["dropped", "crewDay", "start"]), blockId: z.string() }))
    .describe("stops that are otherwise than published"),
  brokenLocks: z
    .array(z.looseObject({ crewName: z.string(), date: localDateSchema, what: z.string(), sentence: z.string() }))
    .describe("what is locked and cannot hold"),
  servedHa: z.number(),
  orderedHa: z.number(),
  servedFrac: z.number(),
  proof: z.string().min(1).describe("what is proven of the plan's cost, or that nothing is; for people"),
  check: z.looseObject({ ok: z.boolean() }),
});

const localTimeSchema = z.looseObject({ min: z.number().int(), date: localDateSchema, iso: z.string() });
const pauseViewSchema = z.looseObject({
  start: localTimeSchema,
  end: localTimeSchema,
  minutes: z.number().int().positive(),
  because: z.array(z.string()).describe("what stops the work then, by the forecast"),
});

const hazardNearSchema = z.looseObject({
  kind: hazardKindSchema,
  heightM: z.number().positive().nullable().describe("its top above the ground, m; null: not known"),
  note: z.string(),
  fieldDistanceM: z.number().min(0).describe("from the field's edge, m; 0: in the field or over it"),
  padDistanceM: z.number().min(0),
  bearingDeg: z.number().min(0).lt(360).nullable().describe("from the pad, degrees from north; null: at the pad"),
});

export const crewSheetSchema = z.looseObject({
  caution: z.string().min(1),
  operationName: z.string(),
  date: localDateSchema,
  crewId: z.string(),
  crewName: z.string(),
  timeline: z.array(z.looseObject({})),
  stops: z.array(
    z.looseObject({
      blockId: z.string(),
      orderId: z.string(),
      pauses: z.array(pauseViewSchema),
      hazards: z.array(hazardNearSchema).describe("what an aircraft could fly into, nearest to the field first"),
      hazardsSurveyed: localDateSchema.nullable().describe("when somebody last looked for hazards; null: not known"),
    }),
  ),
  totals: z.looseObject({ areaHa: z.number(), roadKm: z.number(), dutyMin: z.number() }),
});
