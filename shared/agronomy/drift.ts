import { compassWords } from "../geo/compass.ts";
import { distanceToShapeM } from "../geo/distance.ts";
import type { Calendar } from "../model/calendar.ts";
import type { Limits } from "../model/settings.ts";
import type { ProductBuffer } from "./buffers.ts";
import { type Downwind, downwindOf, isDownwind } from "./downwind.ts";
import { clip, union } from "./intervals.ts";
import { figures, type Judgement, shortest } from "./limits.ts";
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
 * field that is near to any of them (`driftNear`). A wind without a steady direction may blow towards each of them.
 */
export function driftRule(
  limit: "drift" | "driftNear",
  ground: FieldGround,
  places: readonly Place[],
  buffers: readonly ProductBuffer[],
  station: Station,
  { driftAngleDeg, windVariableBelowKph }: Limits,
  calendar: Calendar,
): MinuteRule | undefined {
  const neighbours = places.flatMap((place) => neighbourOf(ground, place, buffers));
  if (neighbours.length === 0) return undefined;
  const isVariable = ({ windKph }: AirStep) => windKph < windVariableBelowKph;
  const hitBy = (step: AirStep) =>
    neighbours.find(
      ({ downwind }) => isVariable(step) || isDownwind(downwind, (step.windFromDeg + 180) % 360, driftAngleDeg),
    );
  return {
    limit,
    stops: clip(union(station.steps.filter((step) => hitBy(step))), 0, calendar.horizonMin),
    judgeAt: (min) => {
      const step = stepAt(station, min);
      const hit = step && hitBy(step);
      return hit && judgementOf(limit, hit, isVariable(step) ? variableWords(step) : steadyWords(step));
    },
  };
}

const steadyWords = ({ windFromDeg }: AirStep) => `wind from the ${compassWords(windFromDeg)} blows`;
const variableWords = ({ windKph }: AirStep) =>
  `wind of ${shortest(windKph, 1)} km/h has no steady direction and may blow`;

function judgementOf(limit: "drift" | "driftNear", hit: Neighbour, wind: string): Judgement {
  const { name, distanceM, bufferM, downwind } = hit;
  const [actual, allowed] = figures(distanceM, bufferM);
  const where = downwind === "every" ? "which touches the field" : `${actual} m from the field`;
  const what = limit === "driftNear" ? ", ground nearer than that waits" : "";
  const sentence = `${wind} towards ${name}, ${where}, label wants ${allowed} m downwind${what}`;
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
