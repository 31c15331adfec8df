import type { Proof } from "../bound/columnGeneration.ts";
import type { Exclusion } from "../bound/keepApart.ts";
import type { SharedLimit } from "../bound/outings.ts";
import type { Offer } from "../bound/pricing.ts";
import { type Relaxation, workLimitsOf } from "../bound/relaxation.ts";
import type { Problem } from "../problem.ts";

/** Another operation's relaxation, its limits under the numbers of the first one's and priced as there. */
export interface Carried {
  readonly relaxation: Relaxation;
  readonly offer: Offer;
}

/**
 * Prices of one operation carried over to another with the same orders, cut alike. At any prices what everything costs at least is below every plan's cost: of the other operation too, as long as each limit that has a price is one of its limits. So limits are known again by what they
 * are of, and those that keep work apart are narrowed to the slots for which they still hold. With `onlySlot` nothing but that slot is meant to be other than before.
 */
export function carryPrices(base: Relaxation, proof: Proof, other: Relaxation, onlySlot: number | null): Carried {
  const { limits, price, numberOf } = commonLimits(base, proof, other);
  const exclusions = base.exclusions.map((one) => stillHolds(one, base.problem, other, onlySlot));
  const first = limits.length;
  const outings = other.outings.map((outing) => ({
    ...outing,
    limits: outing.limits.map((limit) => numberOf[limit]!),
  }));
  const firstApart = base.limits.length - base.exclusions.length;
  exclusions.forEach(({ capacity, blocks }, at) => {
    limits.push({ kind: "apart", capacity, day: -1, base: -1, of: blocks[0]! });
    price.push(proof.prices.limit[firstApart + at]!);
  });
  return {
    relaxation: {
      ...other,
      // Cycles that blocks have learned to remember.
      near: base.near,
      limits,
      outings,
      exclusions,
      dutyLimits: other.dutyLimits.map((list) => list.map((limit) => numberOf[limit]!)),
      workLimits: workLimitsOf(exclusions, first, other.problem.slots.length),
    },
    offer: {
      prices: {
        block: blockPrices(base.problem, proof, other.problem),
        limit: Float64Array.from(price),
        triple: proof.prices.triple,
      },
      triples: proof.triples,
    },
  };
}

/** Limits of things and duty under the base's numbers; those that are new come after them and cost nothing, those that are no more are let go. */
function commonLimits(base: Relaxation, proof: Proof, other: Relaxation) {
  const keyOf = ({ kind, day, base: at, of }: SharedLimit) => [kind, day, at, of].join(" ");
  const shared = base.limits.filter(({ kind }) => kind !== "apart");
  const numbers = new Map(shared.map((limit, at) => [keyOf(limit), at]));
  const limits = [...shared];
  const price: number[] = shared.map(() => 0);
  const numberOf = other.limits.map((limit) => {
    if (limit.kind === "apart") return -1;
    const at = numbers.get(keyOf(limit)) ?? limits.length;
    limits[at] = limit;
    price[at] = at < shared.length ? proof.prices.limit[at]! : 0;
    return at;
  });
  return { limits, price, numberOf };
}

/** Of the exclusion's slots, known again by crew and day, those for which one of the other's exclusions of the same blocks has them beside all of this one's slots for the other blocks. */
function stillHolds(exclusion: Exclusion, { slots }: Problem, other: Relaxation, onlySlot: number | null): Exclusion {
  const { blocks, capacity, amounts } = exclusion;
  const theirs = slotNumbers(other.problem);
  const moved = exclusion.slots.map((list) =>
    list.flatMap((slot) => theirs.get(`${slots[slot]!.crew} ${slots[slot]!.day}`) ?? []),
  );
  const same = other.exclusions.filter(
    (one) => one.capacity === capacity && one.blocks.join() === blocks.join() && one.amounts.join() === amounts.join(),
  );
  const isBesideAll = (one: Exclusion, k: number) =>
    one.slots.every((list, at) => at === k || moved[at]!.every((slot) => list.includes(slot)));
  return {
    blocks,
    capacity,
    amounts,
    slots: moved.map((list, k) =>
      list.filter(
        (slot) =>
          (onlySlot !== null && slot !== onlySlot) ||
          same.some((one) => one.slots[k]!.includes(slot) && isBesideAll(one, k)),
      ),
    ),
  };
}

function slotNumbers({ slots }: Problem): ReadonlyMap<string, number> {
  return new Map(slots.map(({ crew, day }, slot) => [`${crew} ${day}`, slot]));
}

/** A block that nobody could do before costs what it is worth, for then it was lost. */
function blockPrices(base: Problem, { prices }: Proof, { open, blocks, routes }: Problem): Float64Array {
  const wasOpen = new Set(base.open);
  const price = new Float64Array(blocks.length);
  for (const block of open) price[block] = wasOpen.has(block) ? prices.block[block]! : routes.valueCents[block]!;
  return price;
}
