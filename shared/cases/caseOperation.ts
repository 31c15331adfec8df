import type { Operation } from "../model/operation.ts";
import { sampleWeek } from "../season/sampleWeek.ts";
import type { Season } from "../season/season.ts";
import { applyChanges, type ChangeOutcome } from "./applyChanges.ts";
import type { Change } from "./change.ts";

/** Which sampled week of which season. */
export interface SeasonWeek {
  readonly season: Season;
  readonly week: number;
  /** Begins anew for each week, so that every case meets the same weather and the same orders. */
  readonly random: () => number;
}

/** The operation of a case in its own week, or in a sampled one: there the changes come first, so that the days which they name are moved with the week, but those of weather come last. */
export function caseOperation(
  operation: Operation,
  changes: readonly Change[],
  sampled: SeasonWeek | null,
): ChangeOutcome {
  if (sampled === null) return applyChanges(operation, changes);
  const isWeather = ({ kind }: Change) => kind === "changeWeather";
  const changed = applyChanges(
    operation,
    changes.filter((change) => !isWeather(change)),
  );
  if (!changed.ok) return changed;
  const { season, week, random } = sampled;
  return applyChanges(sampleWeek(changed.operation, season, week, random).operation, changes.filter(isWeather));
}
