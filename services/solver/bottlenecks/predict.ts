import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import type { Change } from "../../../shared/cases/change.ts";
import { createCalendar, minutesPerHour } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Proof } from "../bound/columnGeneration.ts";
import { pricedCents } from "../bound/prices.ts";
import { createPricing, type Pricing, priceExactly } from "../bound/pricing.ts";
import { type Relaxation, relax } from "../bound/relaxation.ts";
import { compileProblem } from "../compile.ts";
import type { Problem } from "../problem.ts";
import { type Carried, carryPrices } from "./carryPrices.ts";
import { sameSlots } from "./sameSlots.ts";
import type { Unit, UnitKind } from "./units.ts";

/** What a unit would bring at most, by the prices that prove the bound. */
export interface Prediction {
  readonly unit: Unit;
  readonly cents: number;
}

export interface Proven {
  readonly relaxation: Relaxation;
  readonly proof: Proof;
  readonly boundCents: number;
}

/**
 * At prices that stay as they are what everything costs at least is below every plan's cost, of the operation with the unit too (`carryPrices`). By how much that is less with the unit is what it can bring
 * beyond what the present bound leaves open: best cost - best cost with the unit <= (best cost - bound) + prediction. It is first order: a thing more is paid for at the price of the last one, which
 * falls as more come (Geoffrion 1974, "Lagrangean relaxation for integer programming"; of linear programs Dantzig 1963, "Linear Programming and Extensions": MEMORY).
 */
export function predict(base: Proven, units: readonly Unit[]): Prediction[] {
  const together = (kind: UnitKind) =>
    predictTogether(
      base,
      units.filter((unit) => unit.kind === kind),
    );
  const ofSlots = [...together("hourLater"), ...together("hourEarlier"), ...together("dayWorked")];
  const others = units.flatMap((unit): Prediction[] => {
    if (unit.crewDay !== undefined) return [];
    if (unit.kind === "dutyHour") return [{ unit, cents: dutyHourCents(base, unit.crewId!) }];
    const cents = predictAlone(base, unit);
    return cents === null ? [] : [{ unit, cents }];
  });
  return [...ofSlots, ...others];
}

/** Units that each change one slot, all compiled in one: what one of them changes does not hang on the others. */
function predictTogether(base: Proven, units: readonly Unit[]): Prediction[] {
  const able = allThatApply(base.relaxation.problem, units);
  if (able === null) return [];
  const carried = carryPrices(base.relaxation, base.proof, relax(able.problem));
  const pricing = freshPricing(carried);
  return able.units.map((unit) => {
    const before = slotOf(base.relaxation.problem, unit);
    const beforeCents = before < 0 ? 0 : base.proof.slotCents[before]!;
    return { unit, cents: beforeCents - leastCents(pricing, carried, slotOf(able.problem, unit)) };
  });
}

/** Null where the operation cannot be changed so. */
export function predictAlone(base: Proven, unit: Unit): number | null {
  const problem = changed(base.relaxation.problem, unit.changes);
  if (problem === null) return null;
  return base.boundCents - carriedBound(base, carryPrices(base.relaxation, base.proof, relax(problem)));
}

/** What every plan of the other operation costs at least by the prices carried over. */
export function carriedBound({ relaxation, proof }: Proven, carried: Carried): number {
  const pricing = freshPricing(carried);
  let cents = pricedCents(carried.relaxation, carried.offer.prices);
  sameSlots(relaxation, carried.relaxation).forEach((before, slot) => {
    cents += before >= 0 ? proof.slotCents[before]! : leastCents(pricing, carried, slot);
  });
  return cents;
}

/** With all the room that labels may have: a rougher figure than the base's would look like a gain. */
function freshPricing({ relaxation }: Carried): Pricing {
  const pricing = createPricing(relaxation);
  return { ...pricing, mostLabels: pricing.pool.size };
}

const never = () => false;

function leastCents(pricing: Pricing, { relaxation, offer }: Carried, slot: number): number {
  if (relaxation.outingsOfSlot[slot]!.length === 0) return 0;
  return priceExactly(pricing, slot, offer, never).leastCents;
}

function slotOf({ slots, crews, calendar }: Problem, { crewDay }: Unit): number {
  return slots.findIndex(
    ({ crew, day }) => crews[crew]!.id === crewDay?.crewId && calendar.dates[day] === crewDay?.date,
  );
}

/** An hour more in each seven days in a row. */
function dutyHourCents({ relaxation, proof }: Proven, crewId: string): number {
  const { crews } = relaxation.problem;
  return relaxation.limits.reduce(
    (sum, { kind, of }, at) =>
      kind === "dutyMin" && crews[of]!.id === crewId ? sum + minutesPerHour * proof.prices.limit[at]! : sum,
    0,
  );
}

/** The operation with all of the units that it can have. */
function allThatApply(
  base: Problem,
  units: readonly Unit[],
): { readonly problem: Problem; readonly units: readonly Unit[] } | null {
  let able = units;
  while (able.length > 0) {
    const outcome = applyChanges(
      base.operation,
      able.flatMap(({ changes }) => changes),
    );
    if (outcome.ok) return { problem: compiledAs(base, outcome.operation), units: able };
    // Each of these units is one change.
    const at = new Set(outcome.faults.flatMap(({ path }) => (path[0] === "changes" ? [path[1]] : [])));
    const left = able.filter((_, index) => !at.has(index));
    if (left.length === able.length) return null;
    able = left;
  }
  return null;
}

export function changed(base: Problem, changes: readonly Change[]): Problem | null {
  const outcome = applyChanges(base.operation, changes);
  return outcome.ok ? compiledAs(base, outcome.operation) : null;
}

/** With orders cut as they are, so that prices of blocks hold. */
function compiledAs(base: Problem, operation: Operation): Problem {
  const calendar = createCalendar(operation.settings);
  return compileProblem(operation, calendar, createAgronomy(operation, calendar), null, base);
}
