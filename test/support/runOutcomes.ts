import type { RunKey, RunOutcome, RunResult } from "../../shared/cases/runResult.ts";

interface Came {
  readonly servedHa: number;
  readonly marginCents: number;
}

/** A run that came to a plan of so many hectares and so much margin. */
export function plannedRun(key: RunKey, came: Came, more: Partial<RunResult> = {}): RunOutcome {
  return { status: "planned", key, result: { ...resultWith(came), ...more } };
}

export function resultWith({ servedHa, marginCents }: Came): RunResult {
  return {
    firstDay: "2027-06-14",
    days: 7,
    servedHa,
    orderedHa: 500,
    orders: 40,
    ordersDone: 30,
    ordersInTime: 25,
    conflicts: [],
    roadKm: 100,
    dutyMin: 600,
    workMin: 400,
    openHoursPerOrder: 50,
    money: {
      earnedCents: marginCents + 50_000,
      driveCents: 10_000,
      labourCents: 20_000,
      overtimeCents: 5_000,
      runningCents: 15_000,
      lodgingCents: 0,
      marginCents,
    },
    used: [{ thing: "crew", id: "crew-1", name: "One", baseId: "yard", thereMin: 3000, usedMin: 600 }],
  };
}
