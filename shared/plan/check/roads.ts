import { greatCircleKm } from "../../geo/distance.ts";
import { minutesPerHour } from "../../model/calendar.ts";
import type { Facts, Place } from "./facts.ts";
import { rounding } from "./report.ts";

export interface RoadLeg {
  readonly distanceKm: number;
  /** Whole minutes, rounded up. */
  readonly minutes: number;
}
export type RoadBook = (from: Place, to: Place) => RoadLeg;

/** The road from one place to another: as listed, else in proportion to the great circle. */
export function createRoadBook({ operation }: Pick<Facts, "operation">): RoadBook {
  const { circuityFactor, speedKph } = operation.settings.roads;
  const listed = new Map(operation.roads.map((road) => [`${road.from} ${road.to}`, road]));
  return (from, to) => {
    const road = listed.get(`${from.id} ${to.id}`);
    const straightKm = greatCircleKm([from.lonDeg, from.latDeg], [to.lonDeg, to.latDeg]);
    const distanceKm = road?.distanceKm ?? circuityFactor * straightKm;
    const durationMin = road?.durationMin ?? (distanceKm / speedKph) * minutesPerHour;
    return { distanceKm, minutes: Math.ceil(durationMin - rounding) };
  };
}
