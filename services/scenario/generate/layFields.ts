import type { PointXY } from "../../../shared/geo/plane.ts";
import type { FieldPlan } from "./fieldPlans.ts";
import { type FieldShape, makeFieldShape, moveField } from "./fieldShapes.ts";
import { Grid } from "./grid.ts";
import type { Random } from "./random.ts";
import type { Valley } from "./valley.ts";

/** Clearance between the circles around two fields, and from a field to the middle of the river, m. */
const gapM = 12;
const bankM = 18;

export interface LaidFields {
  readonly shapes: readonly FieldShape[];
  readonly grid: Grid;
}

/** Lays a field for each of the plans, in clusters along both banks; no two overlap and none lies in the river. */
export function layFields(random: Random, valley: Valley, plans: readonly FieldPlan[]): LaidFields {
  const grid = new Grid(1200);
  const clusters = Array.from({ length: Math.max(1, Math.ceil(plans.length / 9)) }, (): PointXY => {
    const xM = random.between(-0.48, 0.48) * valley.lengthM;
    const side = random.chance(0.5) ? 1 : -1;
    const offM = side * (300 + Math.abs(random.normal(0, 0.45 * valley.halfWidthM)));
    return [xM, valley.riverYAt(xM) + offM];
  });
  // Large fields first: they find no room later.
  const order = plans.map((_, index) => index).sort((a, b) => plans[b]!.areaHa - plans[a]!.areaHa);
  const shapes = new Array<FieldShape>(plans.length);
  for (const index of order) {
    shapes[index] = layField(random, valley, clusters, grid, plans[index]!);
    grid.add({ centre: shapes[index].centre, radiusM: shapes[index].radiusM, fieldIndex: index });
  }
  return { shapes, grid };
}

function layField(
  random: Random,
  valley: Valley,
  clusters: readonly PointXY[],
  grid: Grid,
  plan: FieldPlan,
): FieldShape {
  const cluster = random.pick(clusters);
  const across = random.chance(0.3) ? Math.PI / 2 : 0;
  const shape = makeFieldShape(random, {
    areaHa: plan.areaHa,
    holes: plan.holes,
    parts: plan.parts,
    pads: plan.pads,
    angleRad: valley.riverAngleAt(cluster[0]) + across + random.normal(0, 0.2),
  });
  const byTheRiver = random.chance(0.2);
  for (let spreadM = 500; ; spreadM *= 1.04) {
    const xM = cluster[0] + random.normal(0, spreadM);
    const yM = byTheRiver ? valley.riverYAt(xM) : cluster[1] + random.normal(0, spreadM);
    const laid = offTheRiver(random, valley, moveField(shape, [xM, yM]), byTheRiver);
    if (!grid.touches(laid.centre, laid.radiusM + gapM)) return laid;
  }
}

/** Shifts a field across the valley until all of it lies on one bank; a river field ends close to the water. */
function offTheRiver(random: Random, valley: Valley, shape: FieldShape, byTheRiver: boolean): FieldShape {
  const heightsM = [...shape.polygons.flatMap(({ outer }) => outer), ...shape.pads].map(
    ([x, y]) => y - valley.riverYAt(x),
  );
  const wantedM = byTheRiver ? bankM + random.between(2, 26) : bankM + 60;
  const north = shape.centre[1] >= valley.riverYAt(shape.centre[0]);
  const nearestM = north ? Math.min(...heightsM) : -Math.max(...heightsM);
  if (!byTheRiver && nearestM >= wantedM) return shape;
  const shiftM = wantedM - nearestM;
  return moveField(shape, [0, north ? shiftM : -shiftM]);
}
