import { compassWords } from "../geo/compass.ts";
import { bearingDeg, distanceToShapeM, nearestOnShape } from "../geo/distance.ts";
import type { Calendar } from "../model/calendar.ts";
import type { ProductBuffer } from "./buffers.ts";
import { clip, union } from "./intervals.ts";
import { figures, type Judgement } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { FieldGround, Place } from "./places.ts";
import { type AirStep, type Station, stepAt } from "./weather.ts";

interface Neighbour {
  readonly name: string;
  readonly distanceM: number;
  readonly bufferM: number;
  /** From the field's centroid; none when the centroid lies in the place, which then is downwind of every wind. */
  readonly bearingDeg: number | undefined;
}

/**
 * Places in a downwind buffer stop the work while the wind blows towards them: all of it (`drift`), or the part of the
 * field that is near to any of them (`driftNear`).
 */
export function driftRule(
  limit: "drift" | "driftNear",
  ground: FieldGround,
  places: readonly Place[],
  buffers: readonly ProductBuffer[],
  station: Station,
  driftAngleDeg: number,
  calendar: Calendar,
): MinuteRule | undefined {
  const neighbours = places.flatMap((place) => neighbourOf(ground, place, buffers));
  if (neighbours.length === 0) return undefined;
  const judge = (step: AirStep): Judgement | undefined => {
    const windToDeg = (step.windFromDeg + 180) % 360;
    const hit = neighbours.find(
      (neighbour) =>
        neighbour.bearingDeg === undefined || angleBetweenDeg(neighbour.bearingDeg, windToDeg) <= driftAngleDeg,
    );
    if (!hit) return undefined;
    const [actual, allowed] = figures(Math.round(hit.distanceM), hit.bufferM);
    const wind = `wind from the ${compassWords(step.windFromDeg)} blows towards ${hit.name}`;
    const where =
      hit.bearingDeg === undefined ? "within the field" : `${actual} m to the ${compassWords(hit.bearingDeg)}`;
    const what = limit === "driftNear" ? ", ground nearer than that waits" : "";
    const sentence = `${wind}, ${where}, label wants ${allowed} m downwind${what}`;
    return { limit, actual: hit.distanceM, allowed: hit.bufferM, unit: "m", sentence };
  };
  return {
    limit,
    stops: clip(union(station.steps.filter((step) => judge(step))), 0, calendar.horizonMin),
    judgeAt: (min) => {
      const step = stepAt(station, min);
      return step && judge(step);
    },
  };
}

function neighbourOf(ground: FieldGround, place: Place, buffers: readonly ProductBuffer[]): Neighbour[] {
  const { kind, name } = place.feature.properties;
  const buffer = buffers.find((candidate) => candidate.kind === kind);
  if (!buffer) return [];
  const distanceM = Math.max(0, distanceToShapeM(ground.area, place.shape) - place.radiusM);
  if (distanceM >= buffer.distanceM) return [];
  const centroid = ground.plane.toXY(ground.centroid);
  const nearest = nearestOnShape(centroid, place.shape);
  const inside = nearest.distanceM <= place.radiusM;
  return [
    {
      name,
      distanceM,
      bufferM: buffer.distanceM,
      bearingDeg: inside ? undefined : bearingDeg(centroid, nearest.point),
    },
  ];
}

function angleBetweenDeg(aDeg: number, bDeg: number): number {
  const turnDeg = Math.abs(aDeg - bDeg) % 360;
  return Math.min(turnDeg, 360 - turnDeg);
}
