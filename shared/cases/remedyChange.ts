import { z } from "zod";
import { padSchema } from "../model/field.ts";
import { chargerSchema } from "../model/fleet.ts";
import { orderMixSchema } from "../model/order.ts";
import {
  aircraftIdSchema,
  aircraftTypeIdSchema,
  baseIdSchema,
  chargerIdSchema,
  clockTimeSchema,
  crewIdSchema,
  fieldIdSchema,
  localDateSchema,
  localDateTimeSchema,
  orderIdSchema,
  tenderIdSchema,
} from "../model/quantities.ts";
import type { Change } from "./change.ts";

/** Our choice: nobody is asked to stay longer, or to move a date further, than this. */
export const extraHourMin = 60;
export const mostDaysAsked = 7;

const count = z.number().int().min(1).max(50);
const minutes = z.number().int().min(0).max(extraHourMin);

/**
 * What a remedy may change, and nothing else: of the kinds of changes those, and of each the members, that touch no label, licence, rating, duty, rest, buffer, limit, entry, closure or past
 * application. What of these is still held against the operation (that a thing is for hire, a date is moved the right way) is in `remedyFaults`.
 */
export const remedyChangeSchema = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("longerShift"),
    crewId: crewIdSchema,
    dates: z.tuple([localDateSchema]),
    earlierMin: minutes,
    laterMin: minutes,
  }),
  z.strictObject({
    kind: z.literal("setShift"),
    crewId: crewIdSchema,
    date: localDateSchema,
    from: clockTimeSchema,
    to: clockTimeSchema,
  }),
  z.strictObject({
    kind: z.literal("moveThings"),
    toBaseId: baseIdSchema,
    aircraftIds: z.array(aircraftIdSchema),
    chargerIds: z.array(chargerIdSchema),
    tenderIds: z.array(tenderIdSchema),
    batterySets: z.array(z.strictObject({ fromBaseId: baseIdSchema, typeId: aircraftTypeIdSchema, sets: count })),
  }),
  z.strictObject({
    kind: z.literal("addAircraft"),
    typeId: aircraftTypeIdSchema,
    baseId: baseIdSchema,
    count,
    batterySets: z.number().int().min(0).max(500),
  }),
  z.strictObject({ kind: z.literal("batterySets"), baseId: baseIdSchema, typeId: aircraftTypeIdSchema, more: count }),
  z.strictObject({
    kind: z.literal("addCharger"),
    baseId: baseIdSchema,
    bays: chargerSchema.shape.bays,
    kw: chargerSchema.shape.kw,
    count,
  }),
  z.strictObject({ kind: z.literal("addTender"), like: tenderIdSchema, baseId: baseIdSchema, count }),
  z.strictObject({ kind: z.literal("addPad"), fieldId: fieldIdSchema, pad: padSchema }),
  z.strictObject({ kind: z.literal("harvestDate"), fieldId: fieldIdSchema, date: localDateSchema }),
  z.strictObject({
    kind: z.literal("changeOrder"),
    orderId: orderIdSchema,
    set: z.union([
      z.strictObject({ earliest: localDateTimeSchema }),
      z.strictObject({ latest: localDateTimeSchema }),
      z.strictObject({ maySplit: z.literal(true) }),
      z.strictObject({
        products: orderMixSchema.shape.products,
        carrierLPerHa: orderMixSchema.shape.carrierLPerHa.nullable().describe("null: granules have none"),
      }),
    ]),
  }),
]);

export type RemedyChange = z.infer<typeof remedyChangeSchema>;
export type RemedyChangeOf<Kind extends RemedyChange["kind"]> = Extract<RemedyChange, { kind: Kind }>;

/** Whoever widens what remedies may change has to widen what changes there are first. */
export const asChanges = (changes: readonly RemedyChange[]): readonly Change[] => changes;
