import { dutyPrice, type Prices } from "./prices.ts";
import type { Relaxation } from "./relaxation.ts";
import type { Task, TripleBits } from "./task.ts";

/** An outing at given prices. */
export function taskOf(relaxation: Relaxation, index: number, prices: Prices, triples: TripleBits): Task {
  const { problem, outings, days, moves, stops, dutyLimits, roadCents, near } = relaxation;
  const { routes } = problem;
  const { slot, limits, amounts } = outings[index]!;
  return {
    day: days[index]!,
    moves: moves[index]!,
    stopCount: stops.block.length,
    roadCents,
    dutyMaxMin: routes.dutyMaxMin[slot]!,
    wageCentsPerMin: routes.wageCentsPerMin[slot]! + dutyPrice(dutyLimits[slot]!, prices),
    standardMin: routes.standardMin[slot]!,
    overtimeCentsPerMin: routes.overtimeCentsPerMin[slot]!,
    fixedCents: limits.reduce((sum, limit, at) => sum + prices.limit[limit]! * amounts[at]!, 0),
    prizeCents: prizesOf(relaxation, slot, prices),
    near,
    triples,
    residues: relaxation.residues,
    tenderL: routes.profiles[outings[index]!.profile]!.capacity,
    fillLPerMin: relaxation.fillLPerMin,
  };
}

/** What a block brings in a slot. */
function prizesOf({ workLimits }: Relaxation, slot: number, prices: Prices): Float64Array {
  const costing = workLimits[slot]!.filter(({ limit }) => prices.limit[limit]! > 0);
  if (costing.length === 0) return prices.block;
  const prizes = prices.block.slice();
  for (const { block, limit, amount } of costing) prizes[block]! -= amount * prices.limit[limit]!;
  return prizes;
}
