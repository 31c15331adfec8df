import { z } from "zod";
import { latDegSchema, lonDegSchema, positive, stationIdSchema } from "./quantities.ts";

export const weatherStepSchema = z.strictObject({
  stationId: stationIdSchema.describe("a field takes the nearest station"),
  latDeg: latDegSchema,
  lonDeg: lonDegSchema,
  start: z.iso
    .datetime({ offset: true })
    .describe("when the step begins, with its offset from UTC, as 2027-06-07T05:00:00+02:00"),
  stepMin: z.number().int().positive().max(1440).describe("how long the step lasts, minutes"),
  windKph: z.number().min(0).max(250).describe("mean wind speed, km/h"),
  gustKph: z.number().min(0).max(350).describe("strongest gust in the step, km/h; not under windKph"),
  windFromDeg: z.number().min(0).max(360).describe("direction that the wind comes from, degrees from north"),
  windHeightM: positive.max(200).default(10).describe("height at which the wind is given"),
  temperatureC: z.number().min(-50).max(60).describe("air temperature"),
  temperatureHeightM: positive.max(200).default(2).describe("height at which it is given"),
  upperTemperatureC: z
    .number()
    .min(-50)
    .max(60)
    .optional()
    .describe("air temperature at a second, greater height; tells an inversion outright"),
  upperTemperatureHeightM: positive.max(500).optional().describe("that height; both or neither are given"),
  humidityPct: z.number().min(0).max(100).describe("relative humidity"),
  rainMm: z.number().min(0).max(500).describe("rain in the step, mm"),
  rainProbabilityPct: z.number().min(0).max(100).describe("probability of rain in the step"),
  cloudPct: z.number().min(0).max(100).describe("share of the sky under cloud"),
});
export const weatherSchema = z.array(weatherStepSchema);
export type WeatherStep = z.infer<typeof weatherStepSchema>;
