import { createPlane, type LonLat } from "../../../shared/geo/plane.ts";
import type { Buffer } from "../../../shared/model/product.ts";
import type { SensitiveId } from "../../../shared/model/quantities.ts";
import {
  centreOf,
  type Draft,
  type DraftStop,
  type Mutation,
  minuteOf,
  onStop,
  pick,
  pickInt,
  stepsAt,
} from "./mutation.ts";

type DownwindBuffer = Pick<Buffer, "distanceM" | "downwindRule">;

/** A place so far from a point of the field, with a buffer of one of the order's labels, in a wind that blows so far off it. */
function placeInWind(
  draft: Draft,
  stop: DraftStop,
  from: LonLat,
  awayM: number,
  offDeg: number,
  buffer: DownwindBuffer,
): void {
  const [lonDeg, latDeg] = from;
  const towardsDeg = pickInt(draft, 0, 359);
  const towardsRad = (towardsDeg * Math.PI) / 180;
  const coordinates = createPlane(lonDeg, latDeg).toPosition([
    awayM * Math.sin(towardsRad),
    awayM * Math.cos(towardsRad),
  ]);
  draft.operation.sensitive.features.push({
    type: "Feature",
    geometry: { type: "Point", coordinates },
    properties: { id: "DOWNWIND" as SensitiveId, kind: "apiary", name: "Hives", radiusM: 0 },
  });
  pick(draft, stop.products)!.buffers.push({ kind: "apiary", downwindOnly: true, ...buffer });
  draft.operation.settings.limits.driftAngleDeg = 45;
  for (const step of stepsAt(draft, minuteOf(draft, stop))) step.windFromDeg = (towardsDeg + offDeg + 180 + 360) % 360;
}

/** A place downwind of the field, some way outside of the wind's middle. */
function placeDownwind(draft: Draft, stop: DraftStop, buffer: DownwindBuffer): void {
  placeInWind(draft, stop, centreOf(draft, stop), 2000, pickInt(draft, -40, 40), buffer);
}

/** The same where the wind comes from, and the air is as good as calm where it is measured. */
function placeInCalm(draft: Draft, stop: DraftStop, buffer: DownwindBuffer): void {
  const { limits } = draft.operation.settings;
  limits.windVariableBelowKph = 3;
  limits.windAt = "releaseHeight";
  placeInWind(draft, stop, centreOf(draft, stop), 2000, 180 + pickInt(draft, -40, 40), buffer);
  // Brought up from 2 to 10 m, 2.9 km/h are 3.9 km/h (FAO Irrigation and Drainage Paper 56, example 14: 0.748 of them at 2 m).
  for (const type of stop.types) type.releaseHeightM = 10;
  for (const step of draft.operation.weather) Object.assign(step, { windKph: 2.9, windHeightM: 2 });
}

export const driftMutations: readonly Mutation[] = [
  onStop("drift", "the wind blows to a place nearby", (draft, stop) => {
    placeDownwind(draft, stop, { distanceM: 2000, downwindRule: "stopsField" });
    return true;
  }),
  onStop("drift", "the wind blows to a place nearby, the order may not be split", (draft, stop) => {
    stop.order.maySplit = false;
    placeDownwind(draft, stop, { distanceM: 2000, downwindRule: "sparesPart" });
    return true;
  }),
  onStop("drift", "a corner of the field has a place in the wind", (draft, stop) => {
    const { geometry } = draft.operation.fields.features.find(({ properties }) => properties === stop.field)!;
    const rings = geometry.type === "Polygon" ? geometry.coordinates : geometry.coordinates.flat();
    const corner = pick(draft, pick(draft, rings)!)!;
    const buffer = { distanceM: pickInt(draft, 31, 60), downwindRule: "stopsField" as const };
    placeInWind(draft, stop, corner, 30, pickInt(draft, -40, 40), buffer);
    return true;
  }),
  onStop("drift", "a calm with a place within reach", (draft, stop) => {
    placeInCalm(draft, stop, { distanceM: 2000, downwindRule: "stopsField" });
    return true;
  }),
  onStop("driftNear", "the wind blows to a place near to the block", (draft, stop) => {
    stop.order.maySplit = true;
    placeDownwind(draft, stop, { distanceM: 4500, downwindRule: "sparesPart" });
    return true;
  }),
  onStop("driftNear", "a calm with a place near to the block", (draft, stop) => {
    stop.order.maySplit = true;
    placeInCalm(draft, stop, { distanceM: 4500, downwindRule: "sparesPart" });
    return true;
  }),
];
