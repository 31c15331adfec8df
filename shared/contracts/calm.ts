import { z } from "zod";
import { limitNames } from "../agronomy/limits.ts";
import { localDateSchema } from "../model/quantities.ts";

const localTimeSchema = z.looseObject({
  min: z.number().int(),
  date: localDateSchema,
  clock: z.string(),
  iso: z.string(),
});

/** How much may be worked hour by hour (plan/calmHours.ts): the ground on which the week is drawn. */
export const calmViewSchema = z.looseObject({
  caution: z.string().min(1),
  ableHa: z.number().min(0).describe("hectares that some aircraft could work, were it not for the hours"),
  days: z.array(
    z.looseObject({
      date: localDateSchema,
      hours: z.array(
        z.looseObject({
          start: localTimeSchema,
          end: localTimeSchema,
          openHa: z.number().min(0).describe("by the share of the hour in which some aircraft may work them"),
          closedBy: z
            .array(
              z.looseObject({
                limit: z.enum(limitNames),
                areaHa: z.number().min(0).describe("of orders that several limits close, each is told"),
                sentence: z.string().min(1).describe("for people, as it stands for the largest order that it closes"),
              }),
            )
            .describe("what closes the most hectares, three limits at most"),
        }),
      ),
    }),
  ),
  crews: z
    .array(
      z.looseObject({
        crewId: z.string(),
        date: localDateSchema,
        ableHa: z.number().min(0),
        openHa: z.array(z.number().min(0)).describe("by hour of the day"),
      }),
    )
    .describe("the same for what a crew takes out on a day, or could where it stays at home"),
  orders: z
    .array(z.looseObject({ orderId: z.string(), aircraftTypeId: z.string(), night: z.boolean() }))
    .describe("by which kind of aircraft an order's hours are told"),
});
