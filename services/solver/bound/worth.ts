import type { Problem } from "../problem.ts";
import type { SharedLimit } from "./outings.ts";

/** What one more of a thing, or one more minute of duty, would save at most, as long as the same limits bind. */
export interface Worth {
  readonly kind: "aircraft" | "tender" | "charger" | "dutyMin";
  /** The day that the thing is out on; of duty the first of seven days. */
  readonly date: string;
  readonly baseId: string;
  /** Aircraft type, one of the tenders that are alike, or crew; null for chargers. */
  readonly id: string | null;
  readonly cents: number;
}

/** By the prices of limits; those that cost nothing are left out. */
export function worthOf(problem: Problem, limits: readonly SharedLimit[], prices: Float64Array): Worth[] {
  const { fleet, settings } = problem.operation;
  return limits.flatMap(({ kind, day, base, of }, at): Worth[] => {
    const cents = prices[at]!;
    if (kind === "apart" || cents <= 0) return [];
    const named = { aircraft: fleet.aircraftTypes, tender: fleet.tenders, dutyMin: fleet.crews, charger: [] }[kind];
    const date = problem.calendar.dates[day]!;
    return [{ kind, date, baseId: settings.bases[base]!.id, id: named[of]?.id ?? null, cents }];
  });
}
