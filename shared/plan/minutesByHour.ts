import type { Interval } from "../agronomy/intervals.ts";

/** How many minutes of each hour lie in a sorted and disjoint list; hours follow each other. */
export function minutesByHour(list: readonly Interval[], hours: readonly Interval[]): Uint8Array {
  const minutes = new Uint8Array(hours.length);
  let hour = 0;
  for (const { startMin, endMin } of list) {
    while (hour < hours.length && hours[hour]!.endMin <= startMin) hour++;
    for (let at = hour; at < hours.length && hours[at]!.startMin < endMin; at++) {
      minutes[at]! += Math.min(endMin, hours[at]!.endMin) - Math.max(startMin, hours[at]!.startMin);
    }
  }
  return minutes;
}
