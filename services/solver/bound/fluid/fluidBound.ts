import type { Problem } from "../../problem.ts";
import { everyOuting, type SharedLimit } from "../outings.ts";
import { createFluidDays, type FluidDay } from "./fluidDays.ts";
import { fixedCents, type Offers, offer } from "./offer.ts";
import { leastVisits } from "./visits.ts";

export interface FluidBound {
  /** No plan costs less; -Infinity when there was no time for any. */
  readonly boundCents: number;
  readonly isFinished: boolean;
  readonly limits: readonly SharedLimit[];
  /** By limit and by block, those that prove it. */
  readonly prices: Float64Array;
  readonly blockCents: Float64Array;
}

/** How prices are bettered; all our choice, by trial. */
const usual = {
  rounds: 400,
  /** Cents by which the price of a thing changes in the first rounds when twice as many are out as there are. */
  firstStepCents: 4000,
  /** Rounds after which steps are half as long, and a third, and so on. */
  slowing: 12,
  /** How fast weight goes to what is fullest in a day. */
  weighing: 0.15,
};

/**
 * A bound without routes: every crew-day may do any share of its blocks, as far as its minutes go, and goes out by the same share at least. What crew-days share has a price: whoever
 * goes out pays for it, and each block bears of that what it takes of the day. So each costs at least what it does on the day that is cheapest for it, at whatever prices (the dual of
 * a linear program); they are bettered by subgradients with ever shorter steps.
 */
export function fluidBound(
  problem: Problem,
  shouldStop: () => boolean,
  onBetter: (boundCents: number) => void,
): FluidBound {
  const { list, limits } = everyOuting(problem);
  const { blocks, open, slots, routes } = problem;
  const best = {
    boundCents: Number.NEGATIVE_INFINITY,
    prices: new Float64Array(limits.length),
    blockCents: new Float64Array(problem.blocks.length),
  };
  const dayOf = createFluidDays(problem, leastVisits(problem));
  const days: FluidDay[] = [];
  for (const outing of list) {
    if (shouldStop()) return { ...best, limits, isFinished: false };
    const day = dayOf(outing);
    if (day !== null) days.push(day);
  }
  const valueCents = routes.valueCents.reduce((sum, cents) => sum + cents, 0);

  const limitCents = new Float64Array(limits.length);
  const slotCents = new Float64Array(slots.length);
  const offers: Offers = {
    leastCents: new Float64Array(blocks.length),
    cheapest: new Int32Array(blocks.length),
    share: new Float64Array(blocks.length),
  };
  const { leastCents, cheapest, share } = offers;
  const limitUsed = new Float64Array(limits.length);
  const slotUsed = new Float64Array(slots.length);
  let round = 0;
  for (; round < usual.rounds && !shouldStop(); round++) {
    leastCents.set(routes.valueCents);
    cheapest.fill(-1);
    days.forEach((day, at) => {
      offer(problem, day, fixedCents(problem, day, limitCents, slotCents), at, offers);
    });
    let cents = valueCents;
    for (const block of open) cents += leastCents[block]! - routes.valueCents[block]!;
    limits.forEach(({ capacity }, limit) => {
      cents -= capacity * limitCents[limit]!;
    });
    for (const price of slotCents) cents -= price;
    if (cents > best.boundCents) {
      best.boundCents = cents;
      best.prices.set(limitCents);
      for (const block of open) best.blockCents[block] = leastCents[block]!;
      onBetter(cents);
    }

    limitUsed.fill(0);
    slotUsed.fill(0);
    for (const block of open) {
      const at = cheapest[block]!;
      if (at < 0) continue;
      const { limits: own, amounts, slot } = days[at]!.outing;
      own.forEach((limit, i) => {
        limitUsed[limit] = limitUsed[limit]! + share[block]! * amounts[i]!;
      });
      slotUsed[slot] = slotUsed[slot]! + share[block]!;
    }
    weigh(days, open, cheapest);
    const stepCents = (usual.firstStepCents * usual.slowing) / (usual.slowing + round);
    const stepped = (price: number, used: number, capacity: number) =>
      Math.max(0, price + stepCents * Math.min(1, capacity === 0 ? 0 : used / capacity - 1));
    limits.forEach(({ capacity }, limit) => {
      limitCents[limit] = stepped(limitCents[limit]!, limitUsed[limit]!, capacity);
    });
    for (let slot = 0; slot < slots.length; slot++) slotCents[slot] = stepped(slotCents[slot]!, slotUsed[slot]!, 1);
  }
  return { ...best, limits, isFinished: round === usual.rounds };
}

/** In each day that blocks chose, more weight to what they fill most: its minutes of duty or those of one of its sets of hours. */
function weigh(days: readonly FluidDay[], open: readonly number[], cheapest: Int32Array): void {
  const isChosen = new Uint8Array(days.length);
  for (const block of open) if (cheapest[block]! >= 0) isChosen[cheapest[block]!] = 1;
  days.forEach((day, index) => {
    if (isChosen[index] === 0) return;
    const { block, workMin, busyMin, level, roomMin, weight, longestMin } = day;
    const levels = roomMin.length;
    const full = new Float64Array(levels + 1);
    for (let at = 0; at < block.length; at++) {
      if (cheapest[block[at]!] !== index) continue;
      for (let l = level[at]!; l < levels; l++) full[l] = full[l]! + workMin[at]! / roomMin[l]!;
      full[levels] = full[levels]! + busyMin[at]! / longestMin;
    }
    const most = full.reduce((a, b) => Math.max(a, b), 0);
    let sum = 0;
    for (let l = 0; l <= levels; l++) {
      weight[l] = weight[l]! * Math.exp((usual.weighing * full[l]!) / most);
      sum += weight[l]!;
    }
    for (let l = 0; l <= levels; l++) weight[l] = weight[l]! / sum;
  });
}
