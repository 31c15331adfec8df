import { z } from "zod";
import { type Fault, pathText } from "../model/faults.ts";
import { issueWords } from "../model/issueWords.ts";
import { baseIdSchema, crewIdSchema, localDateSchema } from "../model/quantities.ts";
import { schemaFaults } from "../model/validate.ts";
import { blockIdSchema, outfitSchema } from "../plan/plan.ts";

/** Who does what with which things, without times: what a solver from outside hands back. */
export const tourSchema = z.strictObject({
  crewId: crewIdSchema.describe("the crew"),
  date: localDateSchema.describe("local date of its shift"),
  outfit: outfitSchema.strict().describe("what it takes out, as in a plan"),
  blockIds: z.array(blockIdSchema.describe("a block")).min(1).describe("its stops, in the order of the day"),
  sleepsAt: baseIdSchema
    .optional()
    .describe("the base where it sleeps and its tour of the next date begins, with the same outfit; left out: at home"),
});

export const toursSchema = z.strictObject({
  formatVersion: z.literal(1).describe("version of this format"),
  tours: z.array(tourSchema).describe("one for each crew-day"),
});

export type Tour = z.infer<typeof tourSchema>;
export type Tours = z.infer<typeof toursSchema>;

export type ToursOutcome =
  | { readonly ok: true; readonly tours: readonly Tour[] }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Tours as they came in: their form, and no crew-day and no block twice. Whether the things are known is asked where they are. */
export function readTours(raw: unknown): ToursOutcome {
  const parsed = toursSchema.safeParse(raw, { error: issueWords });
  if (!parsed.success) return { ok: false, faults: schemaFaults(parsed.error.issues, raw) };
  const { tours } = parsed.data;
  const faults = repeated(tours);
  return faults.length > 0 ? { ok: false, faults } : { ok: true, tours };
}

function repeated(tours: readonly Tour[]): Fault[] {
  const crewDays = new Map<string, number>();
  const blocks = new Map<string, string>();
  return tours.flatMap(({ crewId, date, blockIds }, at) => {
    const faults: Fault[] = [];
    const crewDay = `${crewId} ${date}`;
    const before = crewDays.get(crewDay);
    if (before === undefined) crewDays.set(crewDay, at);
    else
      faults.push({ path: ["tours", at], value: crewDay, expected: `one tour for a crew-day; see tours[${before}]` });
    blockIds.forEach((id, stop) => {
      const path = ["tours", at, "blockIds", stop];
      const first = blocks.get(id);
      if (first === undefined) blocks.set(id, pathText(path));
      else faults.push({ path, value: id, expected: `each block once; see ${first}` });
    });
    return faults;
  });
}
