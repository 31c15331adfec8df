import type { Operation } from "../model/operation.ts";
import type { Curve } from "./cases.ts";
import type { Change } from "./change.ts";

/** A number of aircraft of the curve's type at its base, and what has to change for it; at the number that there is nothing changes. */
export interface CurvePoint {
  readonly id: string;
  readonly count: number;
  readonly changes: readonly Change[];
}

/** From fewer to more. Those that came last go first. */
export function curvePoints(operation: Operation, curve: Curve): CurvePoint[] {
  const { typeId, baseId } = curve;
  const own = operation.fleet.aircraft.filter((one) => one.typeId === typeId && one.baseId === baseId);
  const least = Math.max(0, own.length - curve.fewer);
  return Array.from({ length: own.length + curve.upTo - least + 1 }, (_, at) => {
    const count = least + at;
    const changes =
      count > own.length
        ? added(curve, count - own.length)
        : own.slice(count).map(({ id }): Change => ({ kind: "takeAircraft", aircraftId: id }));
    return { id: `curve-${count}`, count, changes };
  });
}

function added({ typeId, baseId, batterySets, crewLike, tenderLike, charger }: Curve, count: number): Change[] {
  return [
    { kind: "addAircraft", typeId, baseId, count, batterySets: batterySets * count },
    ...(crewLike === undefined ? [] : [{ kind: "addCrew", like: crewLike, baseId, count } as const]),
    ...(tenderLike === undefined ? [] : [{ kind: "addTender", like: tenderLike, baseId, count } as const]),
    ...(charger === undefined ? [] : [{ kind: "addCharger", ...charger, baseId, count } as const]),
  ];
}
