import { z } from "zod";

/** Ids are short words without spaces, so that they can stand in a table, an address and a file name. */
const idPattern = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/;
const idWords = "an id of letters, digits, dot, dash or underscore, at most 64 long";
const idText = z.string().regex(idPattern, idWords).describe(idWords);

export const fieldIdSchema = idText.brand<"FieldId">();
export const orderIdSchema = idText.brand<"OrderId">();
export const productIdSchema = idText.brand<"ProductId">();
export const aircraftTypeIdSchema = idText.brand<"AircraftTypeId">();
export const aircraftIdSchema = idText.brand<"AircraftId">();
export const crewIdSchema = idText.brand<"CrewId">();
export const personIdSchema = idText.brand<"PersonId">();
export const baseIdSchema = idText.brand<"BaseId">();
export const tenderIdSchema = idText.brand<"TenderId">();
export const chargerIdSchema = idText.brand<"ChargerId">();
export const waterPointIdSchema = idText.brand<"WaterPointId">();
export const padIdSchema = idText.brand<"PadId">();
export const stationIdSchema = idText.brand<"StationId">();
export const sensitiveIdSchema = idText.brand<"SensitiveId">();

export type FieldId = z.infer<typeof fieldIdSchema>;
export type OrderId = z.infer<typeof orderIdSchema>;
export type ProductId = z.infer<typeof productIdSchema>;
export type AircraftTypeId = z.infer<typeof aircraftTypeIdSchema>;
export type AircraftId = z.infer<typeof aircraftIdSchema>;
export type CrewId = z.infer<typeof crewIdSchema>;
export type PersonId = z.infer<typeof personIdSchema>;
export type BaseId = z.infer<typeof baseIdSchema>;
export type TenderId = z.infer<typeof tenderIdSchema>;
export type ChargerId = z.infer<typeof chargerIdSchema>;
export type WaterPointId = z.infer<typeof waterPointIdSchema>;
export type PadId = z.infer<typeof padIdSchema>;
export type StationId = z.infer<typeof stationIdSchema>;
export type SensitiveId = z.infer<typeof sensitiveIdSchema>;

/** A block is an order, or a part of it; its id is the order's id and the part's number: `O-12#1`. */
export type BlockId = string & { readonly __brand: "BlockId" };

export const latDegSchema = z.number().min(-90).max(90).describe("latitude, degrees north, WGS 84");
export const lonDegSchema = z.number().min(-180).max(180).describe("longitude, degrees east, WGS 84");

export const localDateSchema = z.iso.date().describe("a calendar day in the operation's time zone, as 2027-06-07");
/** Days that the calendar lacks, such as 30 February, are refused: Date.parse would roll them over into March. */
const datePattern = z.core.regexes.date.source.replace(/^\^|\$$/g, "");
export const localDateTimeSchema = z
  .string()
  .regex(
    new RegExp(`^${datePattern}T([01]\\d|2[0-3]):[0-5]\\d$`),
    "a local date and time that exist, as 2027-06-07T05:30",
  )
  .describe("a wall-clock time in the operation's time zone, as 2027-06-07T05:30");
export const clockTimeSchema = z
  .string()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, "a time of day as 05:30")
  .describe("a time of day in the operation's time zone, as 05:30");

export const positive = z.number().positive();
export const atLeastZero = z.number().nonnegative();
export const fraction = z.number().min(0).max(1);

/** ASABE S572 droplet classes from finest to coarsest. */
export const dropletClasses = ["XF", "VF", "F", "M", "C", "VC", "XC", "UC"] as const;
export const dropletClassSchema = z
  .enum(dropletClasses)
  .describe("droplet class after ASABE S572: XF, VF, F, M, C, VC, XC or UC");
export type DropletClass = z.infer<typeof dropletClassSchema>;

export const sensitiveKinds = ["dwelling", "school", "water", "apiary", "organic", "susceptible"] as const;
export const sensitiveKindSchema = z.enum(sensitiveKinds).describe("what is to be protected");
export type SensitiveKind = z.infer<typeof sensitiveKindSchema>;

export const hazardKinds = ["wire", "mast", "turbine", "tree", "building", "other"] as const;
export const hazardKindSchema = z.enum(hazardKinds).describe("what an aircraft could fly into");
export type HazardKind = z.infer<typeof hazardKindSchema>;

/** European and Mediterranean Plant Protection Organization: five letters for most plants, up to seven for groups. */
export const eppoCodeSchema = z
  .string()
  .regex(/^[0-9A-Z]{4,7}$/, "an EPPO code, as TRZAW")
  .describe("EPPO code of the crop, as TRZAW");
export const growthStageSchema = z.number().int().min(0).max(99).describe("growth stage after the BBCH scale, 0 to 99");

/** Rules by which an application is recorded (done/recordFields.ts). */
export const recordRules = ["us", "eu"] as const;
export type RecordRule = (typeof recordRules)[number];

export const methodSchema = z.enum(["liquid", "granular"]).describe("liquid is sprayed, granular is spread");
export type Method = z.infer<typeof methodSchema>;
