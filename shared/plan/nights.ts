import type { Crew } from "../model/fleet.ts";
import type { CrewDay } from "./plan.ts";
import type { PlanIndex } from "./planIndex.ts";

/** Where a crew-day leaves its crew: the base at which it sleeps. */
export function sleepsAt({ activities }: CrewDay): string | undefined {
  const last = activities.findLast((activity) => activity.kind === "drive" || "place" in activity);
  if (last === undefined) return undefined;
  return last.kind === "drive" ? last.to : "place" in last ? last.place : undefined;
}

/** The base away from home at which a crew sleeps after a day; null when it is home. */
export function awayAt({ baseId }: Crew, crewDay: CrewDay): string | null {
  const place = sleepsAt(crewDay);
  return place === undefined || place === baseId ? null : place;
}

/** Where a crew-day begins. */
export function beginsAt({ activities }: CrewDay): string | undefined {
  const first = activities.find((activity) => activity.kind === "drive" || "place" in activity);
  if (first === undefined) return undefined;
  return first.kind === "drive" ? first.from : "place" in first ? first.place : undefined;
}

/** Name of the base away from home at which the crew sleeps; null when it comes home. */
export function sleepsAtWords(index: PlanIndex, crewDay: CrewDay): string | null {
  const away = awayAt(index.crew(crewDay.crewId), crewDay);
  return away === null ? null : index.placeWords(away);
}
