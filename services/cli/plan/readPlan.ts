import { readFile } from "node:fs/promises";
import { pathText, valueText } from "../../../shared/model/faults.ts";
import { issueWords } from "../../../shared/model/issueWords.ts";
import { schemaFaults } from "../../../shared/model/validate.ts";
import { type Plan, planSchema } from "../../../shared/plan/plan.ts";
import { counted } from "../../../shared/plan/words.ts";
import { BadInput } from "../output.ts";

/** A plan as it was written, in the right form; whether it is good is the checker's to say. */
export async function readPlan(file: string): Promise<Plan> {
  let raw: unknown;
  try {
    // Drops the byte order mark that some editors write.
    raw = JSON.parse(new TextDecoder().decode(await readFile(file)));
  } catch (error) {
    throw new BadInput([`${file}: ${(error as Error).message}; expected a plan as written by plan --out`]);
  }
  const parsed = planSchema.safeParse(raw, { error: issueWords });
  if (parsed.success) return parsed.data;
  throw new BadInput([
    `${file} is not a plan as written by plan --out:`,
    ...schemaFaults(parsed.error.issues, raw).map(
      ({ path, value, expected }) =>
        `  ${pathText(path) || "the whole file"}: ${valueText(value)}; expected ${expected}`,
    ),
  ]);
}

/** Of a plan that the checker does not pass. */
export function badPlan(dir: string, file: string, breaches: readonly unknown[]): BadInput {
  const places = counted(breaches.length, "place", "places");
  return new BadInput([
    `${file} is no good plan of ${dir}: it breaks rules in ${places}. It may be of another operation, or of inputs that have changed since; see: check ${dir} ${file}`,
  ]);
}
