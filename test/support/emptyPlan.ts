import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";

/** A plan in the right form that plans nothing; its seed tells one from another. */
export function emptyPlan({ settings }: Operation, seed: number): Plan {
  return {
    formatVersion: 1,
    operationName: settings.name,
    timeZone: settings.timeZone,
    firstDay: settings.firstDay,
    days: settings.days,
    seed,
    iterations: 0,
    blocks: [],
    crewDays: [],
    conflicts: [],
    score: {
      unservedCents: 0,
      lateCents: 0,
      driveCents: 0,
      labourCents: 0,
      overtimeCents: 0,
      runningCents: 0,
      outfitChangeCents: 0,
      lodgingCents: 0,
      totalCents: 0,
      servedHa: 0,
      orderedHa: 0,
      roadKm: 0,
      dutyMin: 0,
    },
  };
}
