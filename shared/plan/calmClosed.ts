import type { Agronomy, NightWork } from "../agronomy/agronomy.ts";
import type { Interval } from "../agronomy/intervals.ts";
import { type LimitName, limitNames } from "../agronomy/limits.ts";
import type { AircraftType } from "../model/fleet.ts";
import type { Order } from "../model/order.ts";
import { remember } from "../model/remember.ts";
import { minutesByHour } from "./minutesByHour.ts";

/** What closes hectares in an hour; of orders that several limits close, each is told. */
export interface ClosedBy {
  readonly limit: LimitName;
  readonly areaHa: number;
  /** As it stands for the largest order that it closes. */
  readonly sentence: string;
}

const limitsTold = 3;
export const roundedHa = (areaHa: number) => Math.round(areaHa * 100) / 100;

/** An order, and by which kind of aircraft it is told. */
export interface Told {
  readonly order: Order;
  readonly type: AircraftType;
  readonly night: boolean;
}

export function partsAsked(agronomy: Agronomy, order: Order, night: boolean): { asked: NightWork; areaHa: number }[] {
  return agronomy.parts(order).map(({ areaHa, part }) => ({
    areaHa,
    asked: part === "rest" ? { night, rest: true } : { night },
  }));
}

/** Hectares by the share of each hour. */
export function addShares(sumHa: Float64Array, minutes: Uint8Array, areaHa: number, hours: readonly Interval[]): void {
  for (let hour = 0; hour < sumHa.length; hour++) {
    const { endMin, startMin } = hours[hour]!;
    if (minutes[hour]! > 0) sumHa[hour]! += (areaHa * minutes[hour]!) / (endMin - startMin);
  }
}

/** Which limits close how many hectares, hour by hour. */
export function closedByHour(agronomy: Agronomy, told: readonly Told[], hours: readonly Interval[]) {
  const byHour = remember((list: readonly Interval[]) => minutesByHour(list, hours));
  const sums = new Map<LimitName, { areaHa: Float64Array; largestHa: Float64Array; largest: (Told | undefined)[] }>();
  for (const one of told) {
    for (const { asked, areaHa } of partsAsked(agronomy, one.order, one.night)) {
      for (const { limit, stops } of agronomy.stops(one.order, one.type, asked)) {
        let sum = sums.get(limit);
        if (sum === undefined) {
          sum = { areaHa: new Float64Array(hours.length), largestHa: new Float64Array(hours.length), largest: [] };
          sums.set(limit, sum);
        }
        const minutes = byHour(stops);
        addShares(sum.areaHa, minutes, areaHa, hours);
        for (let hour = 0; hour < hours.length; hour++) {
          if (minutes[hour]! === 0 || areaHa <= sum.largestHa[hour]!) continue;
          sum.largestHa[hour] = areaHa;
          sum.largest[hour] = one;
        }
      }
    }
  }
  return (hour: number): ClosedBy[] =>
    limitNames
      .flatMap((limit) => {
        const sum = sums.get(limit);
        const largest = sum?.largest[hour];
        return sum === undefined || largest === undefined ? [] : [{ limit, areaHa: sum.areaHa[hour]!, largest }];
      })
      .sort((a, b) => b.areaHa - a.areaHa)
      .slice(0, limitsTold)
      .map(({ areaHa, largest, limit }) => ({
        limit,
        areaHa: roundedHa(areaHa),
        sentence: sentenceOf(agronomy, largest, limit, hours[hour]!),
      }));
}

/** In the middle of the hour, or at its first minute that the limit stops. */
function sentenceOf(
  agronomy: Agronomy,
  { night, order, type }: Told,
  limit: LimitName,
  { endMin, startMin }: Interval,
) {
  const at = (min: number) => agronomy.judge(order, type, min, { night }).find((one) => one.limit === limit)?.sentence;
  const middle = at(Math.floor((startMin + endMin) / 2));
  if (middle !== undefined) return middle;
  const stops = agronomy.stops(order, type, { night }).find((one) => one.limit === limit)?.stops ?? [];
  const first = stops.find((stop) => stop.endMin > startMin && stop.startMin < endMin);
  return (first && at(Math.max(first.startMin, startMin))) ?? limit;
}
