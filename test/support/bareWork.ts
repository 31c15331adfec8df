import type { BlockId } from "../../shared/model/quantities.ts";
import { type CrewDay, crewDaySchema, type Pause } from "../../shared/plan/plan.ts";

export interface BareWork {
  readonly crewId: string;
  /** Of the crew-day; a date that no other has tells it from the others in the report. */
  readonly date: string;
  readonly aircraftId: string;
  readonly tenderId: string;
  readonly blockId: BlockId;
  readonly padId: string;
  readonly startMin: number;
  readonly endMin: number;
  readonly pauses?: Pause[];
}

/** Facts of a work about which nothing is asked. */
export const bareDetail = {
  passes: 1,
  passKm: 1,
  headingDeg: 0,
  speedMps: 5,
  loads: 1,
  loadSize: 1,
  amount: 1,
  batteryChanges: 0,
  sprayMin: 1,
  turnMin: 0,
  ferryMin: 0,
  groundMin: 0,
  rateHaPerHour: 1,
  bottleneck: "aircraft",
};

/** A crew-day of nothing but one work, for the limits of its minutes; it breaks nearly every other rule. */
export function bareWork({ crewId, date, aircraftId, tenderId, ...work }: BareWork): CrewDay {
  return crewDaySchema.parse({
    crewId,
    date,
    outfit: { aircraftIds: [aircraftId], batterySets: [], chargerIds: [], tenderId },
    activities: [
      {
        kind: "work",
        ...work,
        detail: bareDetail,
      },
    ],
  });
}
