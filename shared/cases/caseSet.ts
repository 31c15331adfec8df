import { z } from "zod";
import { weatherSchema } from "../model/weather.ts";
import { seasonDocumentSchema } from "../season/seasonDocument.ts";
import { casesFileSchema } from "./cases.ts";

/** A season with its history, which the command line reads from two files. */
export const sentSeasonSchema = z.strictObject({
  document: seasonDocumentSchema.describe("as in season.json"),
  weather: weatherSchema.describe("measured weather of months or years, the rows of history.csv"),
});

/** A named set of cases as it is sent and stored. */
export const caseSetDocumentSchema = z.strictObject({
  name: z
    .string()
    .min(1)
    .max(120)
    .describe("what people call the set; within an operation the same name is the same set"),
  cases: casesFileSchema.describe("the cases, as in a file of cases for the command line"),
  season: sentSeasonSchema.optional().describe("from which weeks are sampled when a study asks for them"),
});

export type CaseSetDocument = z.infer<typeof caseSetDocumentSchema>;
export type SentSeason = z.infer<typeof sentSeasonSchema>;
