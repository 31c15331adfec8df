import type { Unit } from "../../../shared/cases/units.ts";
import type { Column } from "../bound/column.ts";
import type { Proof } from "../bound/columnGeneration.ts";
import { addRoutes, isKnown, openMaster, solveMaster } from "../bound/master.ts";
import { pricedCents, reducedCents } from "../bound/prices.ts";
import { createPricing, type Offer, type Pricing, priceExactly } from "../bound/pricing.ts";
import type { Relaxation } from "../bound/relaxation.ts";
import type { LinearSolver } from "../linear/solver.ts";

/** A bound by routes, and what proves it. */
export interface Proven {
  readonly relaxation: Relaxation;
  readonly proof: Proof;
  readonly boundCents: number;
  readonly columns: readonly Column[];
}

/** The operation with a unit, in the base's numbers of limits and at its prices. */
export interface WithUnit {
  readonly unit: Unit;
  readonly relaxation: Relaxation;
  readonly offer: Offer;
  /** Slots in which something is other than in the base, and their numbers there; -1 for new ones. */
  readonly slots: readonly { readonly slot: number; readonly before: number }[];
}

/** What a unit would bring by the linear relaxation. */
export interface Prediction {
  readonly unit: Unit;
  /** By the prices of the bound as they are: see `atMostCents`. */
  readonly atMostCents: number;
  /** With prices that fall as the unit comes: see `estimateCents`. Null where nobody asked. */
  readonly cents: number | null;
}

/**
 * At prices that stay as they are what everything costs at least is below every plan's cost, of the operation with the unit too. By how much it is less with the unit is what that can bring beyond
 * what the bound leaves open: best cost - best cost with the unit <= (best cost - bound) + what is told here. It is first order: a thing more is paid for at the price of the last one, which falls
 * as more come (Geoffrion 1974, "Lagrangean relaxation for integer programming", Mathematical Programming Study 2; for linear programs Dantzig 1963, "Linear Programming and Extensions": MEMORY).
 */
export function atMostCents(base: Proven, withUnit: WithUnit): number {
  const { relaxation, offer, slots } = withUnit;
  const pricing = freshPricing(relaxation);
  const pricedBefore = pricedCents(base.relaxation, base.proof.prices);
  return slots.reduce(
    (sum, { slot, before }) =>
      sum + (before < 0 ? 0 : base.proof.slotCents[before]!) - priceExactly(pricing, slot, offer, never).leastCents,
    pricedBefore - pricedCents(relaxation, offer.prices),
  );
}

/** Rounds of routes for the slots with the unit. Our choice: then hardly any more come. */
const mostRounds = 8;

/** The linear program over the routes that prove the bound, without any unit. */
export function programCents(base: Proven, solver: LinearSolver): number | null {
  const master = openMaster(base.relaxation, solver, base.proof.triples);
  addRoutes(master, base.relaxation, base.columns);
  const answer = solveMaster(master, base.relaxation);
  master.model.dispose();
  return answer?.cents ?? null;
}

/** By how much the same linear program falls with the unit: with routes for the slots that have it, of which new ones are asked for as prices change. Null if the engine has no answer. */
export function estimateCents(
  base: Proven,
  beforeCents: number,
  { relaxation, offer, slots }: WithUnit,
  solver: LinearSolver,
): number | null {
  const { triples } = offer;
  const pricing = freshPricing(relaxation);
  const master = openMaster(relaxation, solver, triples);
  addRoutes(master, relaxation, carriedColumns(base, relaxation));
  let { prices } = offer;
  let cents: number | null = null;
  for (let round = 0; round < mostRounds; round++) {
    const found = slots.flatMap(({ slot }) => priceExactly(pricing, slot, { prices, triples }, never).columns);
    const isWorth = (column: Column) =>
      reducedCents(relaxation, triples, column, prices) < -1 && !isKnown(master, column);
    const added = addRoutes(master, relaxation, round === 0 ? found : found.filter(isWorth));
    if (added === 0 && round > 0) break;
    const answer = solveMaster(master, relaxation);
    if (answer === null) break;
    cents = beforeCents - answer.cents;
    prices = answer.prices;
  }
  master.model.dispose();
  return cents;
}

/** The units that would bring most, each estimated. An estimate is as good as never more than the most that prices allow, so that those with less than the least estimated need not be asked. */
export function bestUnits(
  base: Proven,
  withUnits: readonly WithUnit[],
  most: number,
  solver: LinearSolver,
): Prediction[] {
  const all = withUnits.map((withUnit) => ({ withUnit, atMostCents: atMostCents(base, withUnit) }));
  const waiting = all.toSorted((a, b) => b.atMostCents - a.atMostCents);
  const beforeCents = programCents(base, solver);
  const estimated = new Map<Unit, number>();
  const leastTaken = () => [...estimated.values()].sort((a, b) => b - a)[most - 1] ?? roundingCents;
  for (const { withUnit, atMostCents: most } of waiting) {
    if (beforeCents === null || most <= leastTaken()) break;
    const cents = estimateCents(base, beforeCents, withUnit, solver);
    if (cents !== null) estimated.set(withUnit.unit, Math.max(0, Math.min(most, cents)));
  }
  return all
    .map(({ withUnit: { unit }, atMostCents }) => ({ unit, atMostCents, cents: estimated.get(unit) ?? null }))
    .sort((a, b) => (b.cents ?? -1) - (a.cents ?? -1) || b.atMostCents - a.atMostCents);
}

/** Below a cent it is rounding. */
const roundingCents = 1;

/** With all the room that labels may have: a rougher figure than the base's would look like a gain. */
function freshPricing(relaxation: Relaxation): Pricing {
  const pricing = createPricing(relaxation);
  return { ...pricing, mostLabels: pricing.pool.size };
}

const never = () => false;

/** Routes of the base in the other's slots and outings: with more of something what could be done costs no more. */
function carriedColumns({ relaxation: base, columns }: Proven, other: Relaxation): Column[] {
  const theirSlot = new Map(other.problem.slots.map(({ crew, day }, slot) => [`${crew} ${day}`, slot]));
  const outingOf = base.outings.map(({ slot, option, tenders }) => {
    const { crew, day } = base.problem.slots[slot]!;
    const theirs = theirSlot.get(`${crew} ${day}`);
    if (theirs === undefined) return undefined;
    return other.outingsOfSlot[theirs]!.find((index) => {
      const outing = other.outings[index]!;
      const isAlike = outing.option.type === option.type && outing.option.count === option.count;
      return isAlike && outing.tenders.includes(tenders[0]!);
    });
  });
  return columns.flatMap((column) => {
    const outing = outingOf[column.outing];
    return outing === undefined ? [] : [{ ...column, outing }];
  });
}
