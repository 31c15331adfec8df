import { z } from "zod";
import { lockSchema } from "../model/locks.ts";
import {
  aircraftIdSchema,
  aircraftTypeIdSchema,
  atLeastZero,
  baseIdSchema,
  chargerIdSchema,
  crewIdSchema,
  fieldIdSchema,
  localDateSchema,
  methodSchema,
  orderIdSchema,
  tenderIdSchema,
} from "../model/quantities.ts";
import { blockIdSchema } from "../plan/plan.ts";

/** The compiled problem as plain data, for solvers that know nothing of agronomy: what they plan comes back as tours (tours.ts). */

const minute = (what: string) => z.number().int().describe(`${what}, minutes since local midnight of the first day`);
const place = z.string().min(1);
const spans = (what: string) =>
  z.array(z.object({ startMin: minute("first minute"), endMin: minute("end, itself not part of it") })).describe(what);

const aboutSchema = z.object({
  holds: z.array(z.string().min(1).describe("a sentence")).describe("what is in this file"),
  leavesOut: z.array(z.string().min(1).describe("a sentence")).describe("what is not"),
});

const daySchema = z.object({
  date: localDateSchema,
  startMin: minute("local midnight with which it begins"),
});

const placeSchema = z.object({
  place: place.describe("a base id, a water point id, or fieldId/padId"),
  kind: z.enum(["base", "waterPoint", "pad"]).describe("what it is"),
  fillLPerMin: atLeastZero.describe("how fast a tender is filled here; 0: it cannot be"),
});

const costsSchema = z.object({
  driveCentsPerKm: atLeastZero.describe("a kilometre of a tender on the road"),
  overtimeFactor: atLeastZero.describe("wages of an overtime hour against a plain one"),
  outfitChangeCents: atLeastZero.describe("each crew-day whose aircraft or tender differ from the crew's day before"),
  lateCentsPerHaDay: atLeastZero.describe("each hectare and whole day after the order's preferred date"),
});

const pausesSchema = z.object({
  pauseMaxMin: atLeastZero.describe("longest pause; 0: work never pauses"),
  stretchMinMin: atLeastZero.describe("shortest stretch of a work that pauses"),
  resumeMin: atLeastZero.describe("by which each pause makes a work longer"),
});

const ruleSchema = z.object({
  rule: z.string().min(1).describe("a word for it"),
  sentence: z.string().min(1).describe("the rule in words, by the names of this file"),
});

const typeSchema = z.object({
  id: aircraftTypeIdSchema,
  setupMin: atLeastZero.describe("at a pad on arriving from another place"),
  packupMin: atLeastZero.describe("at a pad before leaving it"),
  calibrationMin: atLeastZero.describe("more at the first set-up of a day"),
  methodChangeMin: atLeastZero.describe("between spraying and spreading, calibration included"),
  runningCentsPerHour: atLeastZero.describe("each aircraft, each hour of work"),
  transportSlots: z.number().int().min(0).describe("places it takes on a tender"),
});

const pairSchema = z.object({
  orderId: orderIdSchema.describe("the other order, on the same field"),
  days: z
    .number()
    .int()
    .min(0)
    .describe("least local dates from the last work of the earlier to the first of the later"),
  waitMin: atLeastZero.describe("least minutes likewise"),
});

const orderSchema = z.object({
  id: orderIdSchema,
  fieldId: fieldIdSchema,
  method: methodSchema,
  valueCentsPerHa: atLeastZero.describe("what a hectare that is not planned costs"),
  preferredDate: localDateSchema.optional().describe("lateness counts from the end of this day"),
  licences: z.string().min(1).describe("the set of licence classes that it takes, by a name"),
  group: z.string().min(1).describe("compatibility group of its mix; any: goes with every other"),
  cleanOutMin: atLeastZero.describe("to clean tank or hopper before another group follows"),
  cleanOutL: atLeastZero.describe("water for that"),
  apartFrom: z.array(pairSchema).describe("orders whose work must not interleave with this one's"),
});

const seasonSchema = z.object({
  orders: z
    .array(
      z.object({
        orderId: orderIdSchema,
        amountPerHa: atLeastZero.describe("of the product that is limited, in the unit of its label"),
      }),
    )
    .describe("orders on one field with the product"),
  mostOrders: z.number().int().min(0).optional().describe("how many of these orders may have work; left out: all"),
  mostPerHa: atLeastZero.optional().describe("their amounts together, of those with work; left out: any"),
});

const windowsSchema = z.object({
  id: z.string().min(1).describe("the name by which blocks refer to them"),
  byType: z
    .array(
      z.object({
        aircraftTypeId: aircraftTypeIdSchema.describe("types that are not listed may never work here"),
        day: spans("with a crew that does no night work"),
        night: spans("with one that does; left out when the type cannot: as by day").optional(),
      }),
    )
    .describe("by type of aircraft"),
});

const blockSchema = z.object({
  id: blockIdSchema.describe("the order's id and the part's number"),
  orderId: orderIdSchema,
  fieldId: fieldIdSchema,
  areaHa: z.number().positive().describe("treated area"),
  valueCents: atLeastZero.describe("what it costs not to plan it"),
  waterL: atLeastZero.describe("load: water of the tender that it takes; 0 for granules"),
  windows: z.string().min(1).describe("id of its windows"),
  work: z
    .array(
      z.object({
        kind: z.number().int().min(0).describe("kind of work of an outfit; kinds that are not listed cannot do it"),
        workMin: z.number().int().positive().describe("from the first take-off on, all battery sets or tanks full"),
        place: place.describe("the pad that it is worked from"),
      }),
    )
    .describe("how long and from where, by kind of work"),
});

const outfitSchema = z.object({
  id: z.string().min(1).describe("the name by which crews and slots refer to it"),
  baseId: baseIdSchema,
  aircraftTypeId: aircraftTypeIdSchema,
  aircraft: z.number().int().positive().describe("how many of the type"),
  tenderId: tenderIdSchema,
  waterL: z.number().positive().describe("what the tender holds, leaving the base full"),
  batterySets: z.number().int().min(0).describe("all that the base has in the morning; 0 for fuel"),
  chargerIds: z.array(chargerIdSchema.describe("a charger")).describe("all of the base; none for fuel"),
  kind: z.number().int().min(0).describe("kind of work: outfits of one kind take the same minutes on every block"),
});

const poolSchema = z.object({
  baseId: baseIdSchema,
  aircraft: z
    .array(
      z.object({
        id: aircraftIdSchema,
        aircraftTypeId: aircraftTypeIdSchema,
        outOfService: z.array(localDateSchema).describe("dates on which it cannot be used"),
      }),
    )
    .describe("each with one crew at a time"),
  tenders: z
    .array(z.object({ id: tenderIdSchema, transportSlots: z.number().int().min(0).describe("places for aircraft") }))
    .describe("likewise"),
  chargers: z
    .array(z.object({ id: chargerIdSchema, bays: z.number().int().positive().describe("sets that it takes at once") }))
    .describe("likewise"),
  batterySets: z
    .array(
      z.object({
        aircraftTypeId: aircraftTypeIdSchema,
        sets: z.number().int().min(0).describe("full in the morning, for all crews of a date together"),
      }),
    )
    .describe("by type"),
});

const crewSchema = z.object({
  id: crewIdSchema,
  baseId: baseIdSchema.describe("where its days begin and end"),
  nightWork: z.boolean().describe("whether windows by night are open to it"),
  mixedOutfit: z.boolean().describe("whether it may take out aircraft of two types on one day"),
  dutyMaxHoursPerDay: atLeastZero.describe("from leaving the base to being back"),
  dutyMaxHoursPerWeek: atLeastZero.describe("over any seven days in a row"),
  restMinHours: atLeastZero.describe("between being back and leaving again"),
  standardHoursPerDay: atLeastZero.describe("hours of a day paid plainly; more is overtime"),
  costCentsPerHour: atLeastZero.describe("wages of the whole crew, each hour of duty"),
  overnightBaseIds: z
    .array(baseIdSchema.describe("a base"))
    .describe("other bases at which it may sleep between two slots on dates in a row"),
  nightAwayCents: atLeastZero.describe("each such night"),
  mayTake: z
    .array(
      z.object({
        outfitId: z.string().min(1).describe("an outfit of its base"),
        licences: z
          .array(z.string().min(1).describe("the name of a set"))
          .describe("sets of licence classes with which it may fly it"),
      }),
    )
    .describe("outfits that its people may fly"),
});

const slotSchema = z.object({
  crewId: crewIdSchema,
  date: localDateSchema.describe("local date of the shift"),
  shiftFromMin: minute("leaves not before"),
  shiftToMin: minute("is back not after"),
  awayDates: z.array(localDateSchema).describe("dates on which its outfit is out of the pool"),
  outfitIds: z
    .array(z.string().min(1).describe("an outfit"))
    .describe("those of the crew for which enough aircraft are in service on these dates"),
});

const matrix = (what: string) => z.array(z.array(atLeastZero)).describe(what);

export const planningProblemSchema = z.object({
  formatVersion: z.literal(1).describe("version of this format"),
  about: aboutSchema.describe("what is and what is not in this file, in words"),
  operationName: z.string().describe("name of the operation"),
  timeZone: z.string().describe("of all local dates"),
  currency: z.string().describe("whose hundredths the cents are"),
  days: z.array(daySchema).describe("days of the plan"),
  places: z.array(placeSchema).describe("in the order of rows and columns of the matrices"),
  travelMin: matrix("road minutes, a row for each place of leaving, in it one for each place of arrival"),
  travelKm: matrix("road kilometres likewise"),
  costs: costsSchema.describe("cost rates"),
  pauses: pausesSchema.describe("how a work may pause"),
  rules: z.array(ruleSchema).describe("what a plan must keep to, and what it costs, in words"),
  aircraftTypes: z.array(typeSchema).describe("kinds of aircraft"),
  orders: z.array(orderSchema).describe("orders, whether they have blocks or not"),
  seasonLimits: z.array(seasonSchema).describe("limits of a season that orders of the plan could break together"),
  windows: z.array(windowsSchema).describe("when ground may be worked"),
  blocks: z.array(blockSchema).describe("what is planned: each once, or not at all"),
  outfits: z.array(outfitSchema).describe("each kind and number of aircraft with each tender and the most of all else"),
  pools: z.array(poolSchema).describe("particular things, by base"),
  crews: z.array(crewSchema).describe("crews"),
  slots: z.array(slotSchema).describe("one crew on one day on which it has a shift"),
  locks: z.array(lockSchema).describe("what is fixed of a slot; a part is the number behind # in a block's id"),
});

export type PlanningProblem = z.infer<typeof planningProblemSchema>;
