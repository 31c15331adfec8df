import { join } from "node:path";
import { readScenario } from "../../services/scenario/read.ts";
import { readSeason } from "../../services/scenario/readSeason.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Season } from "../../shared/season/season.ts";

const scenarios = join(import.meta.dirname, "../../scenarios");

/** The demo and its season, as they come with the program. */
export async function demoWithSeason(): Promise<{ operation: Operation; season: Season }> {
  const scenario = await readScenario(join(scenarios, "demo"));
  if (!scenario.ok) throw new Error(JSON.stringify(scenario.faults));
  const paths = { season: join(scenarios, "cases/season.json"), history: join(scenarios, "cases/history.csv") };
  const outcome = await readSeason(paths, scenario.operation);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return { operation: scenario.operation, season: outcome.season };
}
