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
    tankL: positive.max(5000),
    swathM: positive.max(60),
    speedMinMps: positive.max(100),
    speedMaxMps: positive.max(100),
    flowMaxLPerMin: positive.max(2000),
    dropletMinUm: positive.max(2000).describe("finest volume median diameter that its atomisers make, µm"),
    dropletMaxUm: positive.max(2000).describe("coarsest volume median diameter that its atomisers make, µm"),
  })
  .describe("with the spray tank fitted");
export const granularGearSchema = z
  .strictObject({
    hopperKg: positive.max(5000),
    hopperL: positive.max(5000),
    swathM: positive.max(60),
    speedMinMps: positive.max(100),
    speedMaxMps: positive.max(100),
    spreadMaxKgPerMin: positive.max(5000),
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
  enduranceMin: positive.max(600),
  reserveFrac: fraction,
  refuelS: atLeastZero.max(3600).describe("seconds on the ground to refuel"),
});

export const aircraftTypeSchema = z.strictObject({
  id: aircraftTypeIdSchema,
  name: z.string().min(1),
  kind: z.enum(["multirotor", "helicopter", "aeroplane"]),
  liquid: liquidGearSchema.optional(),
  granular: granularGearSchema.optional(),
  payloadKg: positive.max(5000),
  ferrySpeedMps: positive.max(100).describe("between pad and pass, m/s"),
  turnS: atLeastZero.max(300).describe("seconds from the end of a pass to the start of the next"),
  takeoffLandingS: atLeastZero.max(600).describe("seconds of a sortie spent taking off and landing"),
  loadS: atLeastZero.max(1800).describe("seconds on the ground per load beside pumping: coupling, checks"),
  power: z.discriminatedUnion("source", [batteryPowerSchema, fuelPowerSchema]),
  windMaxKph: positive.max(90),
  gustMaxKph: positive.max(120),
  slopeMaxPct: positive.max(100),
  releaseHeightM: positive.max(50).describe("height above the crop at which it sprays"),
  transportSlots: z.number().int().min(0).max(20).describe("places it takes on a tender; 0 when it flies to the field"),
  methodChangeMin: atLeastZero.max(240).describe("minutes to change between spraying and spreading"),
  setupMin: atLeastZero.max(240).describe("minutes at a field before the first take-off"),
  packupMin: atLeastZero.max(240).describe("minutes at a field after the last landing"),
  nightCapable: z.boolean().default(false),
  runningCentsPerHour: atLeastZero.describe("energy, wear and insurance per hour of work"),
  ownershipCentsPerYear: atLeastZero.default(0),
});

export const aircraftSchema = z.strictObject({
  id: aircraftIdSchema,
  typeId: aircraftTypeIdSchema,
  baseId: baseIdSchema,
  outOfService: z
    .array(z.strictObject({ from: localDateSchema, to: localDateSchema }))
    .default([])
    .describe("first and last day on which it cannot be used"),
});

export const batteryStockSchema = z.strictObject({
  baseId: baseIdSchema,
  aircraftTypeId: aircraftTypeIdSchema,
  sets: z.number().int().min(0).max(500).describe("battery sets at this base that fit this type"),
});

export const chargerSchema = z.strictObject({
  id: chargerIdSchema,
  baseId: baseIdSchema,
  bays: z.number().int().positive().max(50),
  kw: positive.max(500).describe("power of the charger over all bays, kW"),
});

export const tenderSchema = z.strictObject({
  id: tenderIdSchema,
  name: z.string().min(1),
  baseId: baseIdSchema,
  waterL: positive.max(40000),
  mixLPerMin: positive.max(2000).describe("how fast a mix is made up, L/min"),
  pumpLPerMin: positive.max(2000).describe("how fast a load is pumped into an aircraft, L/min"),
  generatorKw: atLeastZero.max(500),
  transportSlots: z.number().int().min(0).max(40),
});

export const personSchema = z.strictObject({
  id: personIdSchema,
  name: z.string().min(1),
  licenceClasses: z.array(z.string().min(1)).default([]),
  ratings: z.array(aircraftTypeIdSchema).default([]).describe("aircraft types that this person may fly"),
  aircraftAtOnce: z.number().int().min(1).max(10).default(1).describe("aircraft that this person may fly at once"),
});

export const shiftSchema = z.strictObject({
  date: localDateSchema,
  from: clockTimeSchema.describe("earliest time to leave the base"),
  to: clockTimeSchema.describe("latest time back at the base; not after `from` means on the next day"),
});

export const crewSchema = z.strictObject({
  id: crewIdSchema,
  name: z.string().min(1),
  baseId: baseIdSchema,
  people: z.array(personSchema).min(1),
  maxAircraft: z.number().int().min(1).max(20).describe("most aircraft that the crew works at once"),
  shifts: z.array(shiftSchema).describe("one for each day on which the crew may work"),
  dutyMaxHoursPerDay: positive.max(24).describe("from leaving the base to being back"),
  dutyMaxHoursPerWeek: positive.max(168).describe("over any seven days in a row of the plan"),
  restMinHours: atLeastZero.max(48).describe("between being back and leaving again"),
  standardHoursPerDay: positive.max(24).default(8).describe("hours of a day paid plainly; more is overtime"),
  costCentsPerHour: atLeastZero.describe("wages of the whole crew, per hour of duty"),
  nightWork: z.boolean().default(false),
});

export const fleetSchema = z.strictObject({
  aircraftTypes: z.array(aircraftTypeSchema).min(1),
  aircraft: z.array(aircraftSchema),
  batteryStocks: z.array(batteryStockSchema).default([]),
  chargers: z.array(chargerSchema).default([]),
  tenders: z.array(tenderSchema),
  crews: z.array(crewSchema),
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
export type Fleet = z.infer<typeof fleetSchema>;
