import { z } from "zod";
import { unitKinds } from "../cases/units.ts";

const centsSchema = z.number();

/** What `findBottlenecks` comes to; what things are used is told as it comes. */
export const bottlenecksSchema = z.object({
  use: z
    .record(z.string(), z.unknown())
    .describe("of crews, aircraft and other things: how long they were there and out, by day"),
  hours: z
    .array(z.object({ date: z.string(), openMin: z.number(), mannedMin: z.number(), workedMin: z.number() }))
    .describe("calm minutes by day: open for some order, with a crew on shift, worked"),
  currency: z.string(),
  method: z.enum(["routes", "fluid"]).describe("fluid: only things and weeks of duty are told of"),
  boundCents: centsSchema.nullable().describe("no plan as things are can cost less; null where that is not proven"),
  leavesOut: z.string().nullable().describe("what crews may do and the prediction does not know"),
  seeds: z.number().int(),
  iterations: z.number().int(),
  centsPerHa: centsSchema.nullable().describe("what a hectare left out for want of hours or things is worth"),
  units: z
    .array(
      z.object({
        kind: z.enum(unitKinds),
        words: z.string().describe("for people"),
        onlyToKnow: z.boolean().describe("nothing that anybody could do"),
        atMostCents: centsSchema.describe("it would bring no more a week"),
        aboutCents: centsSchema.nullable().describe("null where it was not estimated"),
        aboutHa: z.number().nullable().describe("the same in hectares"),
        realised: z
          .object({
            cents: z.object({
              pairs: z.number().int(),
              mean: centsSchema.describe("saved when the week is planned with it"),
              interval95: z.tuple([centsSchema, centsSchema]).nullable(),
            }),
            spreadCents: centsSchema.nullable().describe("between searches without it"),
            isClear: z.boolean().describe("false: no clear difference"),
            areaHa: z.number().describe("hectares more"),
          })
          .nullable()
          .describe("null where it was not tried"),
        failed: z.string().nullable().describe("why trying came to nothing"),
      }),
    )
    .describe("one more of each thing; what would bring most first"),
});
