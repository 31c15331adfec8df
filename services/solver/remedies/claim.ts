import type { Remedy } from "../../../shared/cases/remedy.ts";
import { sumOf } from "../../../shared/plan/totals.ts";
import type { ConflictGroup } from "./groups.ts";
import type { Tried, TriedPlan } from "./tryChanges.ts";

export type Claim = Omit<Remedy, "changes" | "sentence" | "askGrower" | "orderIdsWon"> & {
  readonly orderIdsWon: readonly string[];
};

/** Less than this is rounding: a tenth of a hectare, a cent for each of the score's parts. */
const leastHa = 0.1;
const leastCents = 10;

/**
 * What may be said of a change after searches with it and without it: of each order what the worst search with it has more than the best without. Its cost is that of the dearer pair. Null when that wins
 * nothing of the group, when it costs more than it is worth before hire, or when some search could not be made or is not good.
 */
export function claimOf(
  group: Pick<ConflictGroup, "orderIds">,
  bases: readonly (Tried | null)[],
  tried: readonly (Tried | null)[],
): Claim | null {
  const before = bases.filter(isPlanned);
  const after = tried.filter(isPlanned);
  if (before.length < bases.length || after.length < tried.length || !after.every(({ isGood }) => isGood)) return null;
  const won = group.orderIds.map((orderId) => ({
    orderId,
    areaHa: least(after, (plan) => plan.servedHa[orderId] ?? 0) - most(before, (plan) => plan.servedHa[orderId] ?? 0),
  }));
  const haWon = sumOf(won, ({ areaHa }) => areaHa);
  if (haWon < leastHa) return null;
  const pairs = after.map((plan, at) => pairOf(before[at]!, plan));
  const dearest = pairs.reduce((worst, next) => (next.netCents < worst.netCents ? next : worst));
  if (dearest.netCents + dearest.hireCents < leastCents) return null;
  return {
    ...dearest,
    haWon,
    orderIdsWon: won.filter(({ areaHa }) => areaHa >= leastHa).map(({ orderId }) => orderId),
  };
}

function pairOf(before: TriedPlan, after: TriedPlan): Omit<Claim, "haWon" | "orderIdsWon"> {
  const costCents = after.costCents - before.costCents;
  const valueCents = Math.round(after.valueCents - before.valueCents);
  return {
    haWonInAll: after.servedHaInAll - before.servedHaInAll,
    stopsMoved: after.stopsMoved,
    stopsDropped: after.stopsDropped,
    costCents,
    hireCents: after.hireCents,
    earnedCents: Math.round(after.earnedCents - before.earnedCents),
    valueCents,
    netCents: valueCents - costCents - after.hireCents,
  };
}

function isPlanned(tried: Tried | null): tried is TriedPlan {
  return tried?.status === "planned";
}

function least(plans: readonly TriedPlan[], measure: (plan: TriedPlan) => number): number {
  return Math.min(...plans.map(measure));
}

function most(plans: readonly TriedPlan[], measure: (plan: TriedPlan) => number): number {
  return Math.max(...plans.map(measure));
}
