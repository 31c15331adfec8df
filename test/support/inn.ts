import type { Operation } from "../../shared/model/operation.ts";
import type { BaseId } from "../../shared/model/quantities.ts";

/** All crews may sleep at an inn beside the field that is farthest from the first yard, on roads as slow as is said. */
export function sleepingAtInn(operation: Operation, speedKph: number): Operation {
  const { fields, fleet, settings } = operation;
  const [yard] = settings.bases;
  const pads = fields.features.map(({ properties }) => properties.pads[0]!);
  const away = ({ latDeg, lonDeg }: { readonly latDeg: number; readonly lonDeg: number }) =>
    Math.hypot(latDeg - yard!.latDeg, (lonDeg - yard!.lonDeg) * Math.cos((latDeg * Math.PI) / 180));
  const farthest = pads.reduce((most, pad) => (away(pad) > away(most) ? pad : most));
  const inn = {
    ...yard!,
    id: "inn" as BaseId,
    name: "Inn",
    latDeg: farthest.latDeg + 0.003,
    lonDeg: farthest.lonDeg + 0.003,
  };
  const crews = fleet.crews.map((crew, at) => ({ ...crew, overnightBaseIds: [inn.id], nightAwayCents: 1000 * at }));
  const roads = { ...settings.roads, speedKph };
  return {
    ...operation,
    settings: { ...settings, roads, bases: [...settings.bases, inn] },
    fleet: { ...fleet, crews },
  };
}
