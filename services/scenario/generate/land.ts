import { createPlane, type PointXY } from "../../../shared/geo/plane.ts";
import type { SensitiveDraft, SettingsDraft } from "./draft.ts";
import type { FieldPlan } from "./fieldPlans.ts";
import type { ToPosition } from "./geojson.ts";
import { type LaidFields, layFields } from "./layFields.ts";
import type { Random } from "./random.ts";
import { makeSensitivePlaces } from "./sensitivePlaces.ts";
import { makeValley, type Valley } from "./valley.ts";

/** Where the invented valley lies: dry irrigated country in a zone without a change of clocks in summer. */
export const home = { lonDeg: -0.42, latDeg: 41.74, timeZone: "Europe/Madrid", altitudeM: 210 };

/** Free ground around a base or a water point, m. */
const yardM = 30;

export interface Land {
  readonly valley: Valley;
  readonly laid: LaidFields;
  readonly places: readonly SensitiveDraft[];
  readonly toPosition: ToPosition;
}

export function makeLand(random: Random, plans: readonly FieldPlan[]): Land {
  const plane = createPlane(home.lonDeg, home.latDeg);
  const toPosition: ToPosition = (point) => {
    const [lonDeg, latDeg] = plane.toPosition(point);
    return [roundDeg(lonDeg), roundDeg(latDeg)];
  };
  const valley = makeValley(
    random.topic("valley"),
    plans.reduce((sum, { areaHa }) => sum + areaHa, 0),
  );
  const laid = layFields(random.topic("shapes"), valley, plans);
  const places = makeSensitivePlaces(random.topic("places"), valley, laid, toPosition);
  return { valley, laid, places, toPosition };
}

/** Seven decimals of a degree are about a centimetre. */
function roundDeg(deg: number): number {
  return Math.round(deg * 1e7) / 1e7;
}

/** A yard on free ground near the river, at a share of the valley's length. */
export function yardPosition({ valley, laid, toPosition }: Land, random: Random, alongFrac: number, side: 1 | -1) {
  const xM = (alongFrac - 0.5) * valley.lengthM;
  let offM = random.between(150, 400);
  const point = (): PointXY => [xM, valley.riverYAt(xM) + side * offM];
  while (laid.grid.touches(point(), yardM)) offM += 2 * yardM;
  const [lonDeg, latDeg] = toPosition(point());
  return { lonDeg, latDeg };
}

/** Hydrants about every nine kilometres along the river. */
export function makeWaterPoints(land: Land, random: Random): NonNullable<SettingsDraft["waterPoints"]> {
  const count = Math.max(1, Math.round(land.valley.lengthM / 9000));
  return Array.from({ length: count }, (_, index) => ({
    id: `water-${index + 1}`,
    name: `Hydrant ${index + 1}`,
    ...yardPosition(land, random, (index + 0.5) / count, index % 2 === 0 ? -1 : 1),
    fillLPerMin: random.pick([200, 300, 450]),
  }));
}
