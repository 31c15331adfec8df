import type { Random } from "../../../../services/scenario/generate/random.ts";
import type { Prices } from "../../../../services/solver/bound/prices.ts";
import type { Relaxation } from "../../../../services/solver/bound/relaxation.ts";

/** Blocks bring up to what they are worth, some of the limits cost something. */
export function randomPrices({ problem, limits }: Relaxation, random: Random): Prices {
  const isOpen = new Set(problem.open);
  const scale = { aircraft: 20_000, tender: 20_000, charger: 10_000, dutyMin: 40, apart: 30_000 };
  return {
    block: Float64Array.from(problem.blocks, ({ valueCents }, block) =>
      isOpen.has(block) ? valueCents * Math.min(1, random.between(0, 1.3)) : 0,
    ),
    limit: Float64Array.from(limits, ({ kind }) => (random.chance(0.4) ? random.between(0, scale[kind]) : 0)),
    triple: new Float64Array(),
  };
}
