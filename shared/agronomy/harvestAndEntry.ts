import { addDays, type Calendar } from "../model/calendar.ts";
import { wholeMinutes } from "./mix.ts";

/** What the labels of one mix ask for; the longest of each counts. */
export interface LabelIntervals {
  readonly phiDays: readonly number[];
  readonly reiHours: readonly number[];
}

export interface HarvestAndEntry {
  readonly phiDays: number;
  readonly reiHours: number;
  /** Nobody enters before this minute. */
  readonly entryMin: number;
  /** Harvest may begin at this minute; which of the two intervals ends last, if there is one. */
  readonly harvestMin: number;
  readonly ruledBy: "phi" | "rei" | "both" | "none";
  /** The first date on which harvest may begin at local midnight, as plans take it to begin. */
  readonly harvestDate: string;
}

/**
 * When people may enter and harvest may begin after work whose last minute ends at `endMin`. The pre-harvest interval counts
 * local dates from that minute's own; an hour of the re-entry interval is an hour that passes, from the end of the work
 * (3 CCR 6772). A re-entry interval that ends later rules the harvest (WSU extension).
 */
export function harvestAndEntry(calendar: Calendar, endMin: number, labels: LabelIntervals): HarvestAndEntry {
  const phiDays = Math.max(...labels.phiDays);
  const reiHours = Math.max(...labels.reiHours);
  const entryMin = endMin + wholeMinutes(reiHours);
  const phiEndMin = calendar.minOfDate(addDays(calendar.dateOfMin(endMin - 1), phiDays));
  const harvestMin = Math.max(phiEndMin, entryMin);
  const ruling = (): HarvestAndEntry["ruledBy"] => {
    if (phiDays === 0 && reiHours === 0) return "none";
    if (phiEndMin === entryMin) return "both";
    return phiEndMin > entryMin ? "phi" : "rei";
  };
  const dayOfHarvest = calendar.dateOfMin(harvestMin);
  return {
    phiDays,
    reiHours,
    entryMin,
    harvestMin,
    ruledBy: ruling(),
    harvestDate: calendar.minOfDate(dayOfHarvest) === harvestMin ? dayOfHarvest : addDays(dayOfHarvest, 1),
  };
}
