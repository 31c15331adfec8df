import { readFile } from "node:fs/promises";
import { type Plan, planSchema } from "../../../shared/plan/plan.ts";
import { BadInput } from "../output.ts";

/** A plan as it was written, in the right form; whether it is good is the checker's to say. */
export async function readPlan(file: string): Promise<Plan> {
  let raw: unknown;
  try {
    raw = JSON.parse(await readFile(file, "utf8"));
  } catch (error) {
    throw new BadInput([`${file}: ${(error as Error).message}; expected a plan as written by plan --out`]);
  }
  const parsed = planSchema.safeParse(raw);
  if (parsed.success) return parsed.data;
  throw new BadInput([
    `${file} is not a plan:`,
    ...parsed.error.issues.map((issue) => `  ${issue.path.join(".")}: ${issue.message}`),
  ]);
}
