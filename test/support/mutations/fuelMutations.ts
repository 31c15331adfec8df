import type { AircraftType } from "../../../shared/model/fleet.ts";
import type { CrewDay } from "../../../shared/plan/plan.ts";
import { type Draft, type DraftStop, type Mutation, mutation, pick, stopsOf, tenderOf, typesOf } from "./mutation.ts";

/** A crew-day of aircraft of one type that burns fuel. */
export interface FuelDay {
  readonly crewDay: CrewDay;
  readonly stops: readonly DraftStop[];
  readonly aircraft: number;
  readonly power: Extract<AircraftType["power"], { source: "fuel" }>;
  /** In the air over the whole day. */
  readonly airMin: number;
  /** On the ground over the whole day, beside loading and pumping. */
  readonly spareS: number;
}

export function fuelDays(draft: Draft): FuelDay[] {
  return draft.plan.crewDays.flatMap((crewDay) => {
    const types = typesOf(draft, crewDay);
    const stops = stopsOf(draft).filter((stop) => stop.crewDay === crewDay);
    const power = types[0]?.power;
    if (power?.source !== "fuel" || new Set(types).size > 1 || stops.length === 0) return [];
    const airMin = stops.reduce(
      (sum, { work: { detail } }) => sum + detail.sprayMin + detail.turnMin + detail.ferryMin,
      0,
    );
    const spareS = stops.reduce((sum, stop) => sum + spareSOf(draft, stop), 0);
    return [{ crewDay, stops, aircraft: types.length, power, airMin, spareS }];
  });
}

function spareSOf(draft: Draft, { crewDay, work: { detail }, block, order, types }: DraftStop): number {
  const pumpedL = block.areaHa * (order.carrierLPerHa ?? 0);
  const pumpMin = pumpedL / tenderOf(draft, crewDay).pumpLPerMin;
  return (detail.groundMin - pumpMin) * 60 - detail.loads * types[0]!.loadS;
}

/** A change to a day that refuels at the field and has no time for one filling more. */
function onFilled(name: string, change: (draft: Draft, day: FuelDay, fillings: number) => boolean): Mutation {
  return mutation("fuel", name, (draft) => {
    const filled = fuelDays(draft).flatMap((day) => {
      const { enduranceMin, reserveFrac, refuelS } = day.power;
      const fillings = Math.ceil(day.airMin / (enduranceMin * (1 - reserveFrac))) - day.aircraft;
      return fillings > 0 && day.spareS < (fillings + 1) * refuelS - 1 ? [{ day, fillings }] : [];
    });
    const found = pick(draft, filled);
    return found !== undefined && change(draft, found.day, found.fillings);
  });
}

export const fuelMutations: readonly Mutation[] = [
  mutation("fuel", "fuel for less time than is flown without a filling more", (draft) => {
    const day = pick(draft, fuelDays(draft));
    if (day === undefined || day.power.refuelS < 1) return false;
    // As many tanks as the aircraft brought and had time to fill last for a thousandth less than the day.
    const tanks = day.aircraft + Math.floor((day.spareS + 1) / day.power.refuelS);
    day.power.enduranceMin = ((day.airMin / tanks) * 0.999) / (1 - day.power.reserveFrac);
    return true;
  }),
  onFilled("more fuel to be left at landing", (_, { power, airMin, aircraft }, fillings) => {
    power.reserveFrac = 1 - ((airMin / (aircraft + fillings)) * 0.999) / power.enduranceMin;
    return true;
  }),
  onFilled("a filling that takes a second longer than there is time", (_, { power, spareS }, fillings) => {
    power.refuelS = spareS / fillings + 1;
    return true;
  }),
  onFilled("no time on the ground for one of the fillings", (_, { power, stops }) => {
    const last = stops.at(-1)!;
    last.work.detail.groundMin -= power.refuelS / 60;
    return last.work.detail.groundMin >= 0;
  }),
  onFilled("ferries from farther away that empty another tank", (_, { power, airMin, aircraft, stops }, fillings) => {
    const tanksMin = (aircraft + fillings) * power.enduranceMin * (1 - power.reserveFrac);
    stops.at(-1)!.work.detail.ferryMin += tanksMin - airMin + 0.1;
    return true;
  }),
  onFilled("loads that take the time of the fillings", (_, { power, stops }) => {
    const loads = stops.reduce((sum, { work }) => sum + work.detail.loads, 0);
    stops[0]!.types[0]!.loadS += power.refuelS / loads;
    return true;
  }),
  onFilled("a pump that takes the time of the fillings", (draft, { crewDay, power, stops }) => {
    const pumpedL = stops.reduce((sum, { block, order }) => sum + block.areaHa * (order.carrierLPerHa ?? 0), 0);
    const tender = tenderOf(draft, crewDay);
    tender.pumpLPerMin = pumpedL / (pumpedL / tender.pumpLPerMin + power.refuelS / 60);
    return pumpedL > 0;
  }),
];
