import { compassWords } from "../geo/compass.ts";
import { distanceToShapeM } from "../geo/distance.ts";
import type { Calendar } from "../model/calendar.ts";
import type { ProductBuffer } from "./buffers.ts";
import { type Downwind, downwindOf, isDownwind } from "./downwind.ts";
import { clip, union } from "./intervals.ts";
import { figures, type Judgement } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { FieldGround, Place } from "./places.ts";
import { type AirStep, type Station, stepAt } from "./weather.ts";

interface Neighbour {
  readonly name: string;
  readonly distanceM: number;
  readonly bufferM: number;
  readonly downwind: Downwind;
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
  const hitBy = ({ windFromDeg }: AirStep) =>
    neighbours.find(({ downwind }) => isDownwind(downwind, (windFromDeg + 180) % 360, driftAngleDeg));
  return {
    limit,
    stops: clip(union(station.steps.filter((step) => hitBy(step))), 0, calendar.horizonMin),
    judgeAt: (min) => {
      const step = stepAt(station, min);
      const hit = step && hitBy(step);
      return hit && judgementOf(limit, hit, step);
    },
  };
}

function judgementOf(limit: "drift" | "driftNear", hit: Neighbour, { windFromDeg }: AirStep): Judgement {
  const { name, distanceM, bufferM, downwind } = hit;
  const [actual, allowed] = figures(Math.round(distanceM), bufferM);
  const where = downwind === "every" ? "which touches the field" : `${actual} m from the field`;
  const what = limit === "driftNear" ? ", ground nearer than that waits" : "";
  const sentence = `wind from the ${compassWords(windFromDeg)} blows towards ${name}, ${where}, label wants ${allowed} m downwind${what}`;
  return { limit, actual: distanceM, allowed: bufferM, unit: "m", sentence };
}

function neighbourOf(ground: FieldGround, place: Place, buffers: readonly ProductBuffer[]): Neighbour[] {
  const { kind, name } = place.feature.properties;
  const buffer = buffers.find((candidate) => candidate.kind === kind);
  if (!buffer) return [];
  const distanceM = Math.max(0, distanceToShapeM(ground.area, place.shape) - place.radiusM);
  if (distanceM >= buffer.distanceM) return [];
  const downwind = downwindOf(ground.area, place, distanceM, buffer.distanceM);
  return [{ name, distanceM, bufferM: buffer.distanceM, downwind }];
}
