import { z } from "zod";
import {
  aircraftIdSchema,
  aircraftTypeIdSchema,
  atLeastZero,
  baseIdSchema,
  chargerIdSchema,
  clockTimeSchema,
  crewIdSchema,
  fraction,
  localDateSchema,
  personIdSchema,
  positive,
  tenderIdSchema,
} from "./quantities.ts";

export const liquidGearSchema = z
  .strictObject({
    tankL: positive.max(5000).describe("what the spray tank holds"),
    swathM: positive.max(60).describe("effective swath"),
    speedMinMps: positive.max(100).describe("slowest speed at which it works"),
    speedMaxMps: positive.max(100).describe("fastest speed at which it works"),
    flowMaxLPerMin: positive.max(2000).describe("most that its pump delivers"),
    dropletMinUm: positive.max(2000).describe("finest volume median diameter that its atomisers make, µm"),
    dropletMaxUm: positive.max(2000).describe("coarsest volume median diameter that its atomisers make, µm"),
  })
  .describe("with the spray tank fitted");
export const granularGearSchema = z
  .strictObject({
    hopperKg: positive.max(5000).describe("most weight in the hopper"),
    hopperL: positive.max(5000).describe("what the hopper holds"),
    swathM: positive.max(60).describe("effective swath"),
    speedMinMps: positive.max(100).describe("slowest speed at which it works"),
    speedMaxMps: positive.max(100).describe("fastest speed at which it works"),
    spreadMaxKgPerMin: positive.max(5000).describe("most that its spreader delivers"),
  })
  .describe("with the spreading hopper fitted");

export const batteryPowerSchema = z.strictObject({
  source: z.literal("battery"),
  enduranceMin: positive.max(240).describe("minutes in the air on a full set, loaded as in work"),
  reserveFrac: fraction.describe("share of a set that must be left at landing"),
  swapS: atLeastZero.max(3600).describe("seconds on the ground to change the set"),
  chargeMin: positive.max(600).describe("minutes to charge a set from the reserve to full"),
  chargeKw: positive.max(200).describe("power that one set draws while charging, kW"),
});
export const fuelPowerSchema = z.strictObject({
  source: z.literal("fuel"),
  enduranceMin: positive.max(600).describe("minutes in the air on full fuel, loaded as in work"),
  reserveFrac: fraction.describe("share of the fuel that must be left at landing"),
  refuelS: atLeastZero.max(3600).describe("seconds on the ground to refuel"),
});

export const aircraftTypeSchema = z.strictObject({
  id: aircraftTypeIdSchema,
  name: z.string().min(1).describe("the name that people call it by"),
  kind: z.enum(["multirotor", "helicopter", "aeroplane"]).describe("what flies"),
  liquid: liquidGearSchema.optional(),
  granular: granularGearSchema.optional(),
  payloadKg: positive.max(5000).describe("most weight that it carries beside tank or hopper"),
  ferrySpeedMps: positive.max(100).describe("between pad and pass, m/s"),
  turnS: atLeastZero.max(300).describe("seconds from the end of a pass to the start of the next"),
  takeoffLandingS: atLeastZero.max(600).describe("seconds of a sortie spent taking off and landing"),
  loadS: atLeastZero.max(1800).describe("seconds on the ground per load beside pumping: coupling, checks"),
  power: z.discriminatedUnion("source", [batteryPowerSchema, fuelPowerSchema]).describe("battery or fuel"),
  windMaxKph: positive.max(90).describe("most wind in which it works"),
  gustMaxKph: positive.max(120).describe("strongest gust in which it works"),
  slopeMaxPct: positive.max(100).describe("steepest slope over which it works"),
  releaseHeightM: positive.max(50).describe("height above the crop at which it sprays"),
  transportSlots: z.number().int().min(0).max(20).describe("places it takes on a tender; 0 when it flies to the field"),
  methodChangeMin: atLeastZero.max(240).describe("minutes to change between spraying and spreading"),
  calibrationMin: atLeastZero
    .max(240)
    .default(0)
    .describe("minutes to calibrate flow or spread, at the first set-up of a day and after each method change"),
  setupMin: atLeastZero.max(240).describe("minutes at a field before the first take-off"),
  packupMin: atLeastZero.max(240).describe("minutes at a field after the last landing"),
  nightCapable: z.boolean().default(false).describe("may work outside the flying day with a crew that does night work"),
  runningCentsPerHour: atLeastZero.describe("energy, wear and insurance per hour of work"),
  ownershipCentsPerYear: atLeastZero.default(0).describe("what it costs to own one, for what-if cases"),
});

export const aircraftSchema = z.strictObject({
  id: aircraftIdSchema,
  typeId: aircraftTypeIdSchema.describe("its aircraft type"),
  baseId: baseIdSchema.describe("its base"),
  outOfService: z
    .array(z.strictObject({ from: localDateSchema, to: localDateSchema }))
    .default([])
    .describe("first and last day on which it cannot be used"),
});

export const batteryStockSchema = z.strictObject({
  baseId: baseIdSchema.describe("where they are kept"),
  aircraftTypeId: aircraftTypeIdSchema.describe("a type that flies on batteries"),
  sets: z.number().int().min(0).max(500).describe("battery sets at this base that fit this type"),
});

export const chargerSchema = z.strictObject({
  id: chargerIdSchema,
  baseId: baseIdSchema.describe("its base"),
  bays: z.number().int().positive().max(50).describe("sets that it takes at once"),
  kw: positive.max(500).describe("power of the charger over all bays, kW"),
});

export const tenderSchema = z.strictObject({
  id: tenderIdSchema,
  name: z.string().min(1).describe("the name that people call it by"),
  baseId: baseIdSchema.describe("its base"),
  waterL: positive.max(40000).describe("what its water tank holds"),
  mixLPerMin: positive.max(2000).describe("how fast a mix is made up, L/min"),
  pumpLPerMin: positive.max(2000).describe("how fast a load is pumped into an aircraft, L/min"),
  loadingPoints: z
    .number()
    .int()
    .min(1)
    .max(10)
    .default(1)
    .describe("aircraft that can be loaded at once, each at pumpLPerMin"),
  generatorKw: atLeastZero.max(500).describe("power for charging at the field"),
  transportSlots: z.number().int().min(0).max(40).describe("places for aircraft"),
});

export const personSchema = z.strictObject({
  id: personIdSchema,
  name: z.string().min(1).describe("as on the crew sheet"),
  licenceClasses: z.array(z.string().min(1)).default([]).describe("licences held, as named in the products"),
  certificationNumber: z.string().min(1).optional().describe("as an applicator, for the application record"),
  ratings: z.array(aircraftTypeIdSchema).default([]).describe("aircraft types that this person may fly"),
  aircraftAtOnce: z.number().int().min(1).max(10).default(1).describe("aircraft that this person may fly at once"),
});

export const shiftSchema = z.strictObject({
  date: localDateSchema.describe("the day on which it begins"),
  from: clockTimeSchema.describe("earliest time to leave the base"),
  to: clockTimeSchema.describe("latest time back at the base; not after `from` means on the next day"),
});

export const crewSchema = z.strictObject({
  id: crewIdSchema,
  name: z.string().min(1).describe("the name that people call it by"),
  baseId: baseIdSchema.describe("where its days begin and end"),
  people: z.array(personSchema).min(1).describe("who is in it"),
  maxAircraft: z.number().int().min(1).max(20).describe("most aircraft that the crew works at once"),
  shifts: z.array(shiftSchema).describe("one for each day on which the crew may work"),
  dutyMaxHoursPerDay: positive.max(24).describe("from leaving the base to being back"),
  dutyMaxHoursPerWeek: positive.max(168).describe("over any seven days in a row of the plan"),
  dutyBefore: z
    .array(
      z.strictObject({
        date: localDateSchema.describe("local date of the shift, before the first day"),
        hours: positive.max(24).describe("hours on duty"),
      }),
    )
    .optional()
    .describe("duty on days before the first day of the plan: it counts in every seven days in a row"),
  restMinHours: atLeastZero.max(48).describe("between being back and leaving again"),
  standardHoursPerDay: positive.max(24).default(8).describe("hours of a day paid plainly; more is overtime"),
  costCentsPerHour: atLeastZero.describe("wages of the whole crew, per hour of duty"),
  nightWork: z.boolean().default(false).describe("may work outside the flying day with aircraft that can"),
  mixedOutfit: z.boolean().optional().describe("may take out aircraft of two types on one day; left out: of one"),
  overnightBaseIds: z
    .array(baseIdSchema)
    .optional()
    .describe("other bases at which it may sleep between two days of work in a row; none: it comes home every day"),
  nightAwayCents: atLeastZero.optional().describe("lodging of the whole crew for a night at another base; none: 0"),
});

/** What all that can be hired has in common. */
const offerShape = {
  baseIds: z.array(baseIdSchema).min(1).describe("bases to which it can be brought"),
  most: z.number().int().min(1).max(50).default(1).describe("how many there are to be had"),
  hireCents: atLeastZero.describe(
    "price of one for a day or a week, from the first day on which it is used to the last",
  ),
  per: z.enum(["day", "week"]).describe("what the price is for; of a week that is begun all is paid"),
};
export const hireOfferSchema = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("aircraft"),
    typeId: aircraftTypeIdSchema.describe("its aircraft type; only crews with a rating for it can fly it"),
    batterySets: z.number().int().min(0).max(50).default(0).describe("battery sets that come with each"),
    ...offerShape,
  }),
  z.strictObject({
    kind: z.literal("batterySets"),
    typeId: aircraftTypeIdSchema.describe("the aircraft type that they fit"),
    ...offerShape,
  }),
  z.strictObject({
    kind: z.literal("charger"),
    bays: chargerSchema.shape.bays,
    kw: chargerSchema.shape.kw,
    ...offerShape,
  }),
  z.strictObject({
    kind: z.literal("tender"),
    like: tenderIdSchema.describe("a tender of the fleet that it is like"),
    ...offerShape,
  }),
]);

export const fleetSchema = z.strictObject({
  aircraftTypes: z.array(aircraftTypeSchema).min(1).describe("what kinds of aircraft there are"),
  aircraft: z.array(aircraftSchema).describe("each single aircraft"),
  batteryStocks: z.array(batteryStockSchema).default([]).describe("battery sets by base and type"),
  chargers: z.array(chargerSchema).default([]).describe("chargers that crews take along"),
  tenders: z.array(tenderSchema).describe("tender trucks, one to a crew-day"),
  crews: z.array(crewSchema).describe("people who work together"),
  hire: z
    .array(hireOfferSchema)
    .optional()
    .describe("what could be hired; plans take none of it, remedies may; left out: nothing"),
});

export type LiquidGear = z.infer<typeof liquidGearSchema>;
export type GranularGear = z.infer<typeof granularGearSchema>;
export type AircraftType = z.infer<typeof aircraftTypeSchema>;
export type Aircraft = z.infer<typeof aircraftSchema>;
export type BatteryStock = z.infer<typeof batteryStockSchema>;
export type Charger = z.infer<typeof chargerSchema>;
export type Tender = z.infer<typeof tenderSchema>;
export type Person = z.infer<typeof personSchema>;
export type Crew = z.infer<typeof crewSchema>;
export type HireOffer = z.infer<typeof hireOfferSchema>;
export type Fleet = z.infer<typeof fleetSchema>;
