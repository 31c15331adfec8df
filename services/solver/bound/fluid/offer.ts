import type { Problem } from "../../problem.ts";
import type { FluidDay } from "./fluidDays.ts";

/** For going out at all. */
export function fixedCents(
  { routes }: Problem,
  { outing: { slot, limits, amounts }, baseMin, baseCents }: FluidDay,
  limitCents: Float64Array,
  slotCents: Float64Array,
): number {
  let cents = slotCents[slot]! + baseCents + baseMin * routes.wageCentsPerMin[slot]!;
  for (let i = 0; i < limits.length; i++) cents += limitCents[limits[i]!]! * amounts[i]!;
  return cents;
}

/** By block: what it costs at least, on which day, and what it takes of it. */
export interface Offers {
  readonly leastCents: Float64Array;
  readonly cheapest: Int32Array;
  readonly share: Float64Array;
}

/** Lowers what blocks cost at least to what they cost on this day, going out shared out among them: all blocks that the day can hold bear together no more than it costs. */
export function offer(
  { routes }: Problem,
  day: FluidDay,
  fixed: number,
  index: number,
  { leastCents, cheapest, share }: Offers,
): void {
  const { block, workMin, busyMin, blockCents, level, roomMin, weight } = day;
  const levels = roomMin.length;
  // By level: what a minute of work takes of the day.
  let sum = 0;
  for (let l = levels - 1; l >= 0; l--) {
    sum += weight[l]! / roomMin[l]!;
    day.perWorkMin[l] = sum;
  }
  const perBusyMin = weight[levels]! / sharingMin(routes, day, fixed * weight[levels]!);
  for (let at = 0; at < block.length; at++) {
    const one = block[at]!;
    if (blockCents[at]! >= leastCents[one]!) continue;
    const part = workMin[at]! * day.perWorkMin[level[at]!]! + busyMin[at]! * perBusyMin;
    const cents = blockCents[at]! + fixed * part;
    if (cents >= leastCents[one]!) continue;
    leastCents[one] = cents;
    cheapest[one] = index;
    share[one] = part;
  }
}

/**
 * Minutes of blocks over which so much of the cost of going out is shared out, that no day bears more than it costs, overtime included: in a standard day all of it, in a longer one
 * no more for a minute than overtime costs.
 */
function sharingMin({ standardMin, overtimeCentsPerMin }: Problem["routes"], day: FluidDay, fixed: number): number {
  const { slot } = day.outing;
  const over = overtimeCentsPerMin[slot]!;
  if (over === 0) return day.longestMin;
  return Math.min(day.longestMin, Math.max(standardMin[slot]! - day.baseMin, fixed / over, 1));
}
