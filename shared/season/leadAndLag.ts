import type { Operation } from "../model/operation.ts";

const hoursPerDay = 24;

/** One more than the hours ask for, since a day may have 23 of them, and the night before the first day tells of inversions. */
const daysFor = (hours: number) => 1 + Math.ceil(hours / hoursPerDay);

/** Days of weather that a week needs before its first day (rain that is still wet, the night) and after its last (rainfast). */
export function leadAndLag({ orders, products }: Operation): { leadDays: number; lagDays: number } {
  const most = (hours: readonly number[]) => hours.reduce((a, b) => Math.max(a, b), 0);
  return {
    leadDays: daysFor(most(orders.map(({ waitAfterRainHours }) => waitAfterRainHours ?? 0))),
    lagDays: daysFor(most(products.map(({ rainfastHours }) => rainfastHours))),
  };
}

/** The most that any operation needs: the schemas allow 240 hours after rain, and 72 hours for what must not be washed off. */
export const greatestLeadDays = daysFor(240);
export const greatestLagDays = daysFor(72);
