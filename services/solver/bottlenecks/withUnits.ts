import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import type { Unit, UnitKind } from "../../../shared/cases/units.ts";
import { createCalendar, minutesPerHour } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { type Relaxation, relax } from "../bound/relaxation.ts";
import { compileProblem } from "../compile.ts";
import type { Problem } from "../problem.ts";
import { carryPrices } from "./carryPrices.ts";
import type { Proven, WithUnit } from "./predict.ts";
import { sameSlots } from "./sameSlots.ts";

/** The operation with each of the units, each for itself; units that it cannot have are left out. Lazily, because an operation may be large. */
export function* withUnits(base: Proven, units: readonly Unit[]): Generator<WithUnit> {
  for (const kind of ["hourLater", "hourEarlier", "dayWorked"] as const) yield* inOne(base, units, kind);
  for (const unit of units) {
    if (unit.kind === "dutyHour") yield withDutyHour(base, unit);
    else if (unit.crewDay === undefined) yield* alone(base, unit);
  }
}

/** Units that each change one slot, all compiled in one: what one of them changes does not hang on the others. */
function* inOne(base: Proven, all: readonly Unit[], kind: UnitKind): Generator<WithUnit> {
  const able = allThatApply(
    base.relaxation.problem,
    all.filter((unit) => unit.kind === kind),
  );
  if (able === null) return;
  const other = relax(able.problem);
  for (const unit of able.units) {
    const slot = slotOf(able.problem, unit);
    if (other.outingsOfSlot[slot]!.length === 0) continue;
    const { relaxation, offer } = carryPrices(base.relaxation, base.proof, other, slot);
    yield { unit, relaxation, offer, slots: [{ slot, before: slotOf(base.relaxation.problem, unit) }] };
  }
}

function* alone(base: Proven, unit: Unit): Generator<WithUnit> {
  const { problem } = base.relaxation;
  const outcome = applyChanges(problem.operation, unit.changes);
  if (!outcome.ok) return;
  const { relaxation, offer } = carryPrices(
    base.relaxation,
    base.proof,
    relax(compiledAs(problem, outcome.operation)),
    null,
  );
  yield { unit, relaxation, offer, slots: changedSlots(base.relaxation, relaxation) };
}

function changedSlots(base: Relaxation, other: Relaxation): WithUnit["slots"] {
  const numberOf = new Map(base.problem.slots.map(({ crew, day }, slot) => [`${crew} ${day}`, slot]));
  const same = sameSlots(base, other);
  return other.problem.slots.flatMap(({ crew, day }, slot) => {
    if (same[slot]! >= 0 || other.outingsOfSlot[slot]!.length === 0) return [];
    return [{ slot, before: numberOf.get(`${crew} ${day}`) ?? -1 }];
  });
}

/** An hour more in each seven days in a row; nothing has to be compiled for it. */
function withDutyHour({ relaxation, proof }: Proven, unit: Unit): WithUnit {
  const { crews } = relaxation.problem;
  const limits = relaxation.limits.map((limit) =>
    limit.kind === "dutyMin" && crews[limit.of]!.id === unit.crewId
      ? { ...limit, capacity: limit.capacity + minutesPerHour }
      : limit,
  );
  return { unit, relaxation: { ...relaxation, limits }, offer: proof, slots: [] };
}

function slotOf({ slots, crews, calendar }: Problem, { crewDay }: Unit): number {
  return slots.findIndex(
    ({ crew, day }) => crews[crew]!.id === crewDay?.crewId && calendar.dates[day] === crewDay?.date,
  );
}

/** The operation with all of the units that it can have, each of which is one change. */
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
    const at = new Set(outcome.faults.flatMap(({ path }) => (path[0] === "changes" ? [path[1]] : [])));
    const left = able.filter((_, index) => !at.has(index));
    if (left.length === able.length) return null;
    able = left;
  }
  return null;
}

/** With orders cut as they are, so that prices of blocks hold. */
function compiledAs(base: Problem, operation: Operation): Problem {
  const calendar = createCalendar(operation.settings);
  return compileProblem(operation, calendar, createAgronomy(operation, calendar), null, base);
}
