import type { Outing } from "../../../../services/solver/bound/outings.ts";
import type { Prices } from "../../../../services/solver/bound/prices.ts";
import type { Relaxation } from "../../../../services/solver/bound/relaxation.ts";
import type { EveryDay } from "../../../support/exact/everyDay.ts";
import type { Route } from "../../../support/exact/route.ts";

/** By slot, what the cheapest of all routes that were walked with all rules costs more than it brings; 0 where none costs less. */
export function leastReducedCents(relaxation: Relaxation, days: EveryDay, prices: Prices): Float64Array {
  const least = new Float64Array(relaxation.problem.slots.length);
  for (const route of days.routes) {
    const cents = reducedCentsOf(relaxation, days, prices, route);
    if (cents < least[route.slot]!) least[route.slot] = cents;
  }
  return least;
}

function reducedCentsOf(
  { outings, dutyLimits, workLimits }: Relaxation,
  days: EveryDay,
  prices: Prices,
  route: Route,
): number {
  const { slot, run } = route;
  let cents = run.cents;
  for (const block of run.stops) cents -= prices.block[block]!;
  for (const { block, limit, amount } of workLimits[slot]!) {
    if (run.stops.includes(block)) cents += amount * prices.limit[limit]!;
  }
  for (const limit of dutyLimits[slot]!) cents += (run.backMin - run.leaveMin) * prices.limit[limit]!;
  // The cheapest things with which the route could be gone.
  const things = outingsOf(outings, days, route).map(({ limits, amounts }) =>
    limits.reduce((sum, limit, at) => sum + amounts[at]! * prices.limit[limit]!, 0),
  );
  return cents + Math.min(...things);
}

/** Outings that a route could be one of: those of the kits that work as its own does. */
export function outingsOf(outings: readonly Outing[], days: EveryDay, { slot, profile }: Route): Outing[] {
  return days.kitsOfSlot[slot]!.filter((kit) => kit.profile === profile).map((kit) => {
    const outing = outings.find(
      ({ option, tenders, slot: other }) =>
        other === slot &&
        option.type === kit.option.type &&
        option.count === kit.option.count &&
        tenders.includes(kit.tender),
    );
    if (outing === undefined) throw new Error(`slot ${slot} goes out in a way that the bound does not know`);
    return outing;
  });
}
