import { z } from "zod";
import { multiPolygonSchema } from "../model/field.ts";
import {
  aircraftIdSchema,
  aircraftTypeIdSchema,
  atLeastZero,
  type BlockId,
  baseIdSchema,
  chargerIdSchema,
  crewIdSchema,
  localDateSchema,
  orderIdSchema,
  padIdSchema,
  sensitiveIdSchema,
  tenderIdSchema,
} from "../model/quantities.ts";

/** Whole minutes since local midnight of the operation's first day (model/calendar.ts). */
const minuteSchema = z.number().int();
export const blockIdSchema = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9._-]*#\d+$/, "a block id as O-12#1")
  .transform((text) => text as BlockId);
/** A base id, a water point id, or fieldId/padId. */
const placeSchema = z.string().min(1);

export const blockSchema = z.object({
  id: blockIdSchema,
  orderId: orderIdSchema,
  part: z.number().int().positive().describe("1 for the first block of its order"),
  parts: z.number().int().positive().describe("blocks of the order in all"),
  areaHa: z.number().positive(),
  geometry: multiPolygonSchema.describe("the ground to be treated"),
});

/** Minutes and counts of one block worked by one outfit without a pause. Minutes by part are sums over all aircraft. */
export const workDetailSchema = z.object({
  passes: z.number().int().positive(),
  passKm: z.number().positive().describe("length of all passes, km"),
  headingDeg: z.number().min(0).max(180).describe("direction of the passes, degrees from north"),
  speedMps: z.number().positive(),
  loads: z.number().int().positive(),
  loadSize: z.number().positive().describe("L or kg in a full load as flown"),
  amount: z.number().positive().describe("L of mix or kg of granules in all"),
  batteryChanges: z.number().int().min(0),
  sprayMin: atLeastZero,
  turnMin: atLeastZero,
  ferryMin: atLeastZero,
  groundMin: atLeastZero,
  rateHaPerHour: z.number().positive().describe("work rate of the whole outfit"),
  bottleneck: z.enum(["aircraft", "loading", "mixing", "batteries", "chargers"]),
});

const span = { startMin: minuteSchema, endMin: minuteSchema };
/** A break in a work: the crew stays at the pad and nothing is done. */
export const pauseSchema = z.object(span);
export const activitySchema = z.discriminatedUnion("kind", [
  z.object({ kind: z.literal("drive"), ...span, from: placeSchema, to: placeSchema, distanceKm: atLeastZero }),
  z.object({ kind: z.literal("refill"), ...span, place: placeSchema, waterL: z.number().positive() }),
  z.object({ kind: z.literal("cleanOut"), ...span, fromGroup: z.string(), toGroup: z.string(), waterL: atLeastZero }),
  z.object({ kind: z.literal("methodChange"), ...span, to: z.enum(["liquid", "granular"]) }),
  z.object({ kind: z.literal("setup"), ...span, place: placeSchema }),
  z.object({ kind: z.literal("wait"), ...span }),
  z.object({
    kind: z.literal("work"),
    ...span,
    blockId: blockIdSchema,
    padId: padIdSchema,
    pauses: z.array(pauseSchema).min(1).optional().describe("in order; left out when the work does not pause"),
    aircraftIds: z
      .array(aircraftIdSchema)
      .min(1)
      .optional()
      .describe("those of the outfit that work the block, all of one type; left out: all of it"),
    detail: workDetailSchema,
  }),
  z.object({ kind: z.literal("packup"), ...span, place: placeSchema }),
]);

export const outfitSchema = z.object({
  aircraftIds: z.array(aircraftIdSchema).min(1),
  batterySets: z.array(
    z.object({
      aircraftTypeId: aircraftTypeIdSchema,
      sets: z.number().int().positive(),
      bays: z
        .number()
        .int()
        .positive()
        .optional()
        .describe("charging bays at the field that are theirs where types share them; left out: all that work"),
    }),
  ),
  chargerIds: z.array(chargerIdSchema),
  tenderId: tenderIdSchema,
});

export const crewDaySchema = z.object({
  crewId: crewIdSchema,
  date: localDateSchema.describe("local date of the shift"),
  outfit: outfitSchema,
  activities: z
    .array(activitySchema)
    .min(1)
    .describe("from base to base without a gap; the home base, or the one where the crew sleeps"),
});

export const conflictKinds = [
  "noCapableAircraft",
  "noQualifiedCrew",
  "labelForbids",
  "bufferLeavesNothing",
  "seasonMaximum",
  "retreatment",
  "harvestTooSoon",
  "entryTooSoon",
  "fieldClosed",
  "contradiction",
  "noWindow",
  "windowTooShort",
  "equipmentShort",
  "notEnoughHours",
  "byHand",
] as const;

/** What can keep a block out: limits as the windows have them, then what else it takes. In the order in which people are told of them. */
export const obstacleNames = [
  "label",
  "seasonMax",
  "ground",
  "buffers",
  "method",
  "releaseHeight",
  "droplet",
  "slope",
  "rate",
  "range",
  "aircraft",
  "licence",
  "rating",
  "phi",
  "rei",
  "entry",
  "closed",
  "retreatment",
  "apart",
  "dates",
  "daylight",
  "noForecast",
  "rain",
  "rainfast",
  "wet",
  "wind",
  "windLow",
  "gust",
  "deltaT",
  "temperature",
  "humidity",
  "inversion",
  "bloom",
  "drift",
  "driftNear",
  "tender",
  "water",
  "sets",
  "chargers",
  "outOfService",
  "shift",
  "duty",
  "locked",
] as const;
export const obstacleSchema = z.object({
  limit: z.enum(obstacleNames),
  aircraftTypeId: aircraftTypeIdSchema.optional().describe("the type that it is about; left out: whichever flies"),
  sensitiveId: sensitiveIdSchema.optional().describe("the place that it is about"),
  orderId: orderIdSchema.optional().describe("the other order that it is about"),
  sentence: z.string().min(1).describe("for people"),
  data: z.record(z.string(), z.unknown()).describe("what was measured against what"),
});
export const mostBlockingSets = 3;
export const becauseSchema = z
  .object({
    sets: z
      .array(z.array(obstacleSchema).min(1))
      .min(1)
      .max(mostBlockingSets)
      .describe(
        "the smallest first; each alone keeps the block out of an empty week, no part of it does, and something of every set has to give way",
      ),
    hasMore: z.boolean().describe("whether there are further sets"),
  })
  .describe("what of the inputs keeps it out, whatever else is planned");
export const conflictSchema = z.object({
  orderId: orderIdSchema,
  blockIds: z.array(blockIdSchema).describe("the blocks that are not planned; none when the order has no block at all"),
  areaHa: atLeastZero.describe("hectares not planned"),
  kind: z.enum(conflictKinds),
  sentence: z.string().min(1).describe("for people"),
  because: becauseSchema.optional().describe("left out where it would fit an empty week"),
  evidence: z.record(z.string(), z.unknown()).describe("what was measured against what"),
});

/** The parts of the objective, all in cents, all costs; their sum is what the planner makes small. */
export const scoreSchema = z.object({
  unservedCents: z.number(),
  lateCents: z.number(),
  driveCents: z.number(),
  labourCents: z.number(),
  overtimeCents: z.number(),
  runningCents: z.number(),
  outfitChangeCents: z.number(),
  lodgingCents: z.number().optional().describe("plans from before it was counted have none"),
  riskCents: z.number().optional().describe("likewise"),
  changeCents: z.number().optional().describe("likewise"),
  totalCents: z.number(),
  servedHa: z.number(),
  orderedHa: z.number(),
  roadKm: z.number(),
  dutyMin: z.number(),
});

/** What the dispatcher has locked and what does not hold of it in the plan. */
export const brokenLockSchema = z.object({
  crewId: crewIdSchema,
  date: localDateSchema.describe("local date of the shift"),
  blockIds: z
    .array(blockIdSchema)
    .describe("locked blocks that are not planned; none when it is the outfit, or ground that is not there"),
  sentence: z.string().min(1).describe("for people"),
});

/** A thing that is short, and what one more of it, or one more minute of duty, would save at most as long as the same things are short. */
export const worthSchema = z.object({
  thing: z.enum(["aircraft", "tender", "charger", "dutyMin"]),
  date: localDateSchema.describe("the day, of duty the first of seven"),
  baseId: baseIdSchema,
  id: z
    .string()
    .min(1)
    .optional()
    .describe("the aircraft type, a tender that does as much, or the crew; left out for chargers"),
  cents: atLeastZero,
});

/** What no plan costs less than, and how far this one is from it. */
export const proofSchema = z.object({
  boundCents: z.number().positive().describe("no plan costs less"),
  gapFrac: atLeastZero.describe("by how much of the bound this plan costs more; the least possible cost lies between"),
  method: z
    .enum(["routes", "fluid"])
    .describe("by routes of crew-days (column generation), or by fractions of blocks as in a fluid"),
  finished: z.boolean().describe("false when more time could have raised the bound"),
  worth: z.array(worthSchema).describe("the bound's duals"),
});

/** A stop as it was published, in the minutes of the plan that is held against it. */
export const publishedStopSchema = z.object({
  blockId: blockIdSchema,
  orderId: orderIdSchema,
  crewId: crewIdSchema,
  date: localDateSchema.describe("local date of the shift"),
  startMin: minuteSchema,
  areaHa: z.number().positive(),
  geometry: multiPolygonSchema.describe("the ground that it was to treat"),
});

export const planSchema = z.object({
  formatVersion: z.literal(1),
  operationName: z.string(),
  timeZone: z.string(),
  firstDay: localDateSchema,
  days: z.number().int().positive(),
  seed: z.number().int(),
  iterations: z.number().int().min(0),
  blocks: z.array(blockSchema),
  crewDays: z.array(crewDaySchema),
  conflicts: z.array(conflictSchema),
  brokenLocks: z.array(brokenLockSchema).optional().describe("left out when all that is locked holds"),
  published: z.array(publishedStopSchema).optional().describe("the stops that changes are counted against"),
  score: scoreSchema,
  proof: proofSchema.optional().describe("left out where nothing was proven"),
});

export type Block = z.infer<typeof blockSchema>;
export type WorkDetail = z.infer<typeof workDetailSchema>;
export type Pause = z.infer<typeof pauseSchema>;
export type Activity = z.infer<typeof activitySchema>;
export type Outfit = z.infer<typeof outfitSchema>;
export type CrewDay = z.infer<typeof crewDaySchema>;
export type ConflictKind = (typeof conflictKinds)[number];
export type ObstacleName = (typeof obstacleNames)[number];
export type Obstacle = z.infer<typeof obstacleSchema>;
export type Because = z.infer<typeof becauseSchema>;
export type Conflict = z.infer<typeof conflictSchema>;
export type BrokenLock = z.infer<typeof brokenLockSchema>;
export type PublishedStop = z.infer<typeof publishedStopSchema>;
export type Score = z.infer<typeof scoreSchema>;
export type Worth = z.infer<typeof worthSchema>;
export type Proof = z.infer<typeof proofSchema>;
export type Plan = z.infer<typeof planSchema>;
