import type { z } from "zod";
import type { seasonDocumentSchema } from "../../../../shared/season/seasonDocument.ts";

/** The demo's growing season: spring is slow, June and July bring most of the work. Our choice of figures. */
export const demoSeason: z.input<typeof seasonDocumentSchema> = {
  formatVersion: 1,
  name: "A growing season in the Lunera valley, invented",
  demand: [
    { from: "2027-04-01", to: "2027-04-30", ordersPerWeek: 30 },
    { from: "2027-05-01", to: "2027-05-31", ordersPerWeek: 55 },
    { from: "2027-06-01", to: "2027-06-30", ordersPerWeek: 75 },
    { from: "2027-07-01", to: "2027-07-31", ordersPerWeek: 65 },
    { from: "2027-08-01", to: "2027-08-31", ordersPerWeek: 45 },
    { from: "2027-09-01", to: "2027-09-30", ordersPerWeek: 35 },
  ],
  mandatory: "drawn",
  weather: { meanRunDays: 3, windowDays: 15 },
};
