import { z } from "zod";
import { limitNames, minuteLimits } from "../agronomy/limits.ts";
import { aircraftTypeIdSchema, orderIdSchema } from "../model/quantities.ts";

export const judgementSchema = z.object({
  limit: z.enum(limitNames),
  actual: z.union([z.number(), z.string()]),
  allowed: z.union([z.number(), z.string()]),
  unit: z.string(),
  sentence: z.string().min(1).describe("for people"),
});

const isoSchema = z.iso.datetime({ offset: true });
const spanSchema = z.object({
  startMin: z.number().int().describe("minutes since local midnight of the operation's first day"),
  endMin: z.number().int(),
  start: isoSchema,
  end: isoSchema,
});

export const windowsQuerySchema = z.strictObject({
  type: aircraftTypeIdSchema.describe("id of the aircraft type"),
  night: z.enum(["yes", "no"]).default("no").describe("whether the crew may work at night"),
});

export const orderWindowsSchema = z.object({
  orderId: orderIdSchema,
  aircraftTypeId: aircraftTypeIdSchema,
  night: z.enum(["yes", "no"]),
  limits: z.array(judgementSchema).describe("what stops the order at every minute"),
  windows: z.array(spanSchema),
  lostMin: z.partialRecord(z.enum(minuteLimits), z.number().int().min(0)).describe("minutes that each limit stops"),
  hours: z
    .array(spanSchema.extend({ openMin: z.number().int().min(0).max(60), judgements: z.array(judgementSchema) }))
    .describe("every hour of the horizon"),
  caution: z.string().min(1),
});
export type OrderWindows = z.infer<typeof orderWindowsSchema>;
