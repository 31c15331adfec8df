import { z } from "zod";
import { padSchema } from "../model/field.ts";
import { aircraftTypeSchema, chargerSchema, crewSchema, personSchema, tenderSchema } from "../model/fleet.ts";
import { orderSchema } from "../model/order.ts";
import {
  aircraftIdSchema,
  aircraftTypeIdSchema,
  baseIdSchema,
  chargerIdSchema,
  clockTimeSchema,
  crewIdSchema,
  fieldIdSchema,
  localDateSchema,
  orderIdSchema,
  personIdSchema,
  positive,
  tenderIdSchema,
} from "../model/quantities.ts";
import { baseSchema, costsSchema, limitsSchema, planningSchema, waterPointSchema } from "../model/settings.ts";
import { weatherStepSchema } from "../model/weather.ts";

const countSchema = z.number().int().min(1).max(50).default(1).describe("how many");

/** Members to be given other values; what they may be is judged with the operation that comes of it. */
function membersOf<Shape extends z.core.$ZodLooseShape>(schema: z.ZodObject<Shape>, ...fixed: string[]) {
  const names = Object.keys(schema.shape).filter((name) => !fixed.includes(name));
  return z
    .partialRecord(z.enum(names), z.unknown())
    .refine((set) => Object.keys(set).length > 0, "at least one member to change")
    .describe(`any of ${names.join(", ")}, in their usual form; of what has members of its own those that are given`);
}

/** One named change to an operation. Things that are added get ids of their own, after those that they are like. */
export const changeSchema = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("addAircraft"),
    typeId: aircraftTypeIdSchema.describe("a type that the operation knows"),
    baseId: baseIdSchema.describe("where they stand"),
    count: countSchema,
    batterySets: z.number().int().min(0).max(500).default(0).describe("battery sets that come with them, in all"),
  }),
  z.strictObject({ kind: z.literal("takeAircraft"), aircraftId: aircraftIdSchema.describe("the one to take away") }),
  z.strictObject({
    kind: z.literal("batterySets"),
    baseId: baseIdSchema.describe("where they are kept"),
    typeId: aircraftTypeIdSchema.describe("the type that they fit"),
    more: z.number().int().min(-500).max(500).describe("so many sets more; negative: fewer"),
  }),
  z.strictObject({
    kind: z.literal("addCharger"),
    baseId: baseIdSchema.describe("its base"),
    bays: chargerSchema.shape.bays,
    kw: chargerSchema.shape.kw,
    count: countSchema,
  }),
  z.strictObject({ kind: z.literal("takeCharger"), chargerId: chargerIdSchema.describe("the one to take away") }),
  z.strictObject({
    kind: z.literal("addTender"),
    like: tenderIdSchema.describe("a tender that it is like"),
    baseId: baseIdSchema.optional().describe("its base; left out: that tender's"),
    set: membersOf(tenderSchema, "id", "baseId").optional(),
    count: countSchema,
  }),
  z.strictObject({ kind: z.literal("takeTender"), tenderId: tenderIdSchema.describe("the one to take away") }),
  z.strictObject({
    kind: z.literal("moveThings"),
    toBaseId: baseIdSchema.describe("where they stand from the first day on"),
    aircraftIds: z.array(aircraftIdSchema).default([]).describe("aircraft"),
    chargerIds: z.array(chargerIdSchema).default([]).describe("chargers"),
    tenderIds: z.array(tenderIdSchema).default([]).describe("tenders"),
    batterySets: z
      .array(
        z.strictObject({
          fromBaseId: baseIdSchema.describe("where they are now"),
          typeId: aircraftTypeIdSchema.describe("the type that they fit"),
          sets: z.number().int().positive().max(500).describe("how many"),
        }),
      )
      .default([])
      .describe("battery sets"),
  }),
  z.strictObject({
    kind: z.literal("addCrew"),
    like: crewIdSchema.describe("a crew that it is like: people, shifts, pay"),
    baseId: baseIdSchema.optional().describe("its base; left out: that crew's"),
    set: membersOf(crewSchema, "id", "baseId", "people").optional(),
    count: countSchema,
  }),
  z.strictObject({ kind: z.literal("takeCrew"), crewId: crewIdSchema.describe("the one to take away") }),
  z.strictObject({
    kind: z.literal("changeCrew"),
    crewId: crewIdSchema.describe("the crew"),
    set: membersOf(crewSchema, "id", "people", "shifts"),
  }),
  z.strictObject({
    kind: z.literal("setShift"),
    crewId: crewIdSchema.describe("the crew"),
    date: localDateSchema.describe("the day on which the shift begins, whether it has one or not"),
    from: clockTimeSchema.describe("earliest time to leave the base"),
    to: clockTimeSchema.describe("latest time back; not after `from` means on the next day"),
  }),
  z.strictObject({
    kind: z.literal("longerShift"),
    crewId: crewIdSchema.describe("the crew"),
    dates: z.array(localDateSchema).min(1).optional().describe("days of the shifts; left out: all of its shifts"),
    earlierMin: z.number().int().min(-600).max(600).default(0).describe("minutes earlier; negative: later"),
    laterMin: z.number().int().min(-600).max(600).default(0).describe("minutes longer at the end; negative: shorter"),
  }),
  z.strictObject({
    kind: z.literal("dayOff"),
    crewId: crewIdSchema.describe("the crew"),
    date: localDateSchema.describe("the day of the shift that it loses"),
  }),
  z.strictObject({
    kind: z.literal("train"),
    crewId: crewIdSchema.describe("the crew"),
    personId: personIdSchema.describe("who learns it"),
    ratings: personSchema.shape.ratings.describe("aircraft types that this person may fly then, too"),
    licenceClasses: personSchema.shape.licenceClasses.describe("licences that this person holds then, too"),
    aircraftAtOnce: z.number().int().min(1).max(10).optional().describe("aircraft flown at once; left out: as before"),
  }),
  z.strictObject({
    kind: z.literal("changeType"),
    typeId: aircraftTypeIdSchema.describe("the aircraft type"),
    set: membersOf(aircraftTypeSchema, "id"),
  }),
  z.strictObject({
    kind: z.literal("addType"),
    like: aircraftTypeIdSchema.describe("a type that it is like"),
    id: aircraftTypeIdSchema.describe("its own id"),
    set: membersOf(aircraftTypeSchema, "id"),
  }),
  z.strictObject({ kind: z.literal("addBase"), base: baseSchema.describe("a base") }),
  z.strictObject({ kind: z.literal("addWaterPoint"), waterPoint: waterPointSchema.describe("a water point") }),
  z.strictObject({ kind: z.literal("addOrders"), orders: z.array(orderSchema).min(1).describe("orders as in orders") }),
  z.strictObject({ kind: z.literal("takeOrders"), orderIds: z.array(orderIdSchema).min(1).describe("to take away") }),
  z.strictObject({
    kind: z.literal("changeOrder"),
    orderId: orderIdSchema.describe("the order"),
    set: membersOf(orderSchema, "id", "fieldId"),
  }),
  z.strictObject({
    kind: z.literal("harvestDate"),
    fieldId: fieldIdSchema.describe("the field"),
    date: localDateSchema.describe("the day on which harvest begins instead"),
  }),
  z.strictObject({
    kind: z.literal("addPad"),
    fieldId: fieldIdSchema.describe("the field"),
    pad: padSchema.describe("a place where aircraft land and load, beside those that the field has"),
  }),
  z.strictObject({
    kind: z.literal("changeSettings"),
    costs: membersOf(costsSchema).optional(),
    limits: membersOf(limitsSchema).optional(),
    planning: membersOf(planningSchema).optional(),
  }),
  z.strictObject({
    kind: z.literal("changeWeather"),
    windFactor: positive.max(5).default(1).describe("mean wind and gusts times so much"),
    rainFactor: z.number().min(0).max(20).default(1).describe("rain times so much"),
    warmerC: z.number().min(-20).max(20).default(0).describe("degrees warmer, both heights alike; negative: colder"),
  }),
  z.strictObject({
    kind: z.literal("replaceWeather"),
    steps: z.array(weatherStepSchema).min(1).describe("weather in place of all that there is"),
  }),
]);
export const changesSchema = z.array(changeSchema);

export type Change = z.infer<typeof changeSchema>;
export type ChangeOf<Kind extends Change["kind"]> = Extract<Change, { kind: Kind }>;
