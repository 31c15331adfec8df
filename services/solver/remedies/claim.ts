import type { Remedy } from "../../../shared/cases/remedy.ts";
import type { OrderId } from "../../../shared/model/quantities.ts";
import { sumOf } from "../../../shared/plan/totals.ts";
import type { ConflictGroup } from "./groups.ts";
import { leastHa, type Tried, type TriedPlan } from "./tryChanges.ts";

/** What has to be known of orders. */
export interface OrderFacts {
  /** Of each that has any in the present plan. */
  readonly presentHa: Readonly<Record<string, number>>;
  /** What hectares of them are worth to the planner, in cents. */
  worthOf(won: readonly { readonly orderId: OrderId; readonly areaHa: number }[]): number;
  isMandatory(orderId: OrderId): boolean;
}

export type Claim = Omit<Remedy, "changes" | "sentence" | "askGrower">;

/** Less than this is rounding: a cent for each of the score's parts. */
const leastCents = 10;

/** Our choice: once the change is made, leaving out again what it is to win has to cost at least this share of what that is worth, or the change may as well be used for something else. */
const leastShare = 0.15;

/** The first so many searches are short. */
const shortSearches = 2;

/**
 * What may be said of a change after searches with it and without it: of each order what the worst search with it has more than the present plan and the best search without. Its cost is that of the dearer pair. Null when that wins
 * nothing of the group, when it costs more than it is worth before hire, or when some search could not be made or is not good.
 */
export function claimOf(
  group: Pick<ConflictGroup, "orderIds">,
  { presentHa, worthOf, isMandatory }: OrderFacts,
  bases: readonly (Tried | null)[],
  tried: readonly (Tried | null)[],
): Claim | null {
  const before = bases.filter(isPlanned);
  const after = tried.filter(isPlanned);
  if (before.length < bases.length || after.length < tried.length || !after.every(({ isGood }) => isGood)) return null;
  const won = group.orderIds.map((orderId) => ({
    orderId,
    areaHa:
      Math.min(...after.map(({ servedHa }) => servedHa[orderId] ?? 0)) -
      Math.max(presentHa[orderId] ?? 0, ...before.map(({ servedHa }) => servedHa[orderId] ?? 0)),
  }));
  const haWon = sumOf(won, ({ areaHa }) => areaHa);
  if (haWon < leastHa) return null;
  // A long search moves whatever it likes: what a change costs and moves is told by the short ones.
  const wonCents = worthOf(won.filter(({ areaHa }) => areaHa >= leastHa));
  if (after.some(({ withoutCents }) => withoutCents !== null && withoutCents < leastShare * wonCents)) return null;
  const pairs = after.slice(0, shortSearches).map((plan, at) => pairOf(before[at]!, plan));
  const dearest = pairs.reduce((worst, next) => (next.netCents < worst.netCents ? next : worst));
  if (dearest.netCents + dearest.hireCents < leastCents) return null;
  if (dearest.haWonInAll < leastHa && !won.some(({ orderId, areaHa }) => areaHa >= leastHa && isMandatory(orderId)))
    return null;
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
