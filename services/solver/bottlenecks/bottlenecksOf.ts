import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { calmHours } from "../../../shared/cases/calmHours.ts";
import { everyUnit, type Unit } from "../../../shared/cases/units.ts";
import { createCalendar, minutesPerHour } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { boundApplies } from "../bound/boundApplies.ts";
import { claimed } from "../bound/boundOf.ts";
import { type FluidBound, fluidBound } from "../bound/fluid/fluidBound.ts";
import type { KnownRoute } from "../bound/knownRoutes.ts";
import type { SharedLimit } from "../bound/outings.ts";
import { mostBlocksForRoutes, routeBound } from "../bound/routeBound.ts";
import { compileProblem } from "../compile.ts";
import type { LinearSolver } from "../linear/solver.ts";
import type { Problem } from "../problem.ts";
import { bestUnits, type Prediction } from "./predict.ts";
import { withUnits } from "./withUnits.ts";

export interface BottleneckAsk {
  readonly solver: LinearSolver;
  /** Crew-days of a good plan. */
  readonly known: readonly KnownRoute[];
  /** For proving; what units would bring then takes its own time. */
  readonly shouldStop: () => boolean;
  /** So many units are estimated; of the others only the most is told. */
  readonly most: number;
}

export interface Bottlenecks {
  /** `fluid`: a large operation, or no time for routes; then only things and weeks of duty are told of, and nothing is estimated. */
  readonly method: "routes" | "fluid";
  /** Null where it does not hold of every plan, because crews may do what it leaves out. */
  readonly boundCents: number | null;
  /** What crews may do and the bound leaves out: then it is as if they did not. */
  readonly leavesOut: string | null;
  /** What would bring most first. */
  readonly predictions: readonly Prediction[];
}

/** What one more of everything would bring, by the linear relaxation of the week. */
export function bottlenecksOf(given: Problem, { solver, known, shouldStop, most }: BottleneckAsk): Bottlenecks {
  const leavesOut = boundApplies(given);
  const problem = leavesOut === null ? given : without(given);
  const { operation } = problem;
  const agronomy = createAgronomy(operation, createCalendar(operation.settings));
  const units = [...everyUnit(operation), ...calmHours(operation, agronomy)];
  const fluid = fluidBound(problem, shouldStop, () => undefined);
  const told = (method: Bottlenecks["method"], cents: number, predictions: readonly Prediction[]): Bottlenecks => ({
    method,
    boundCents: leavesOut === null && Number.isFinite(cents) ? claimed(cents) : null,
    leavesOut,
    predictions,
  });
  if (problem.open.length <= mostBlocksForRoutes) {
    const { relaxation, proof, boundCents, columns } = routeBound(problem, fluid, {
      solver,
      known: () => known,
      shouldStop,
      onBetter: () => undefined,
    });
    if (proof !== null && boundCents > fluid.boundCents) {
      const base = { relaxation, proof, boundCents, columns };
      return told("routes", boundCents, bestUnits(base, [...withUnits(base, units)], most, solver));
    }
  }
  return told("fluid", fluid.boundCents, byFluid(problem, fluid, units));
}

/** Without crews that take out several types or sleep away. */
function without({ operation, ...cut }: Problem): Problem {
  const crews = operation.fleet.crews.map(({ mixedOutfit: _mixed, overnightBaseIds: _away, ...crew }) => crew);
  const plainer: Operation = { ...operation, fleet: { ...operation.fleet, crews } };
  const calendar = createCalendar(operation.settings);
  return compileProblem(plainer, calendar, createAgronomy(plainer, calendar), null, cut);
}

/** First order, by the prices of what crew-days share; an hour or a day of one crew has none in a fluid. */
function byFluid(
  { types, crews, operation }: Problem,
  { limits, prices }: FluidBound,
  units: readonly Unit[],
): Prediction[] {
  const { bases } = operation.settings;
  const sumOver = (isOf: (limit: SharedLimit) => boolean) =>
    limits.reduce((sum, limit, at) => (isOf(limit) ? sum + prices[at]! : sum), 0);
  return units
    .flatMap((unit): Prediction[] => {
      const [change] = unit.changes;
      const isHere = ({ base }: SharedLimit) => bases[base]?.id === unit.baseId;
      const most = () => {
        switch (change?.kind) {
          case "addAircraft":
            return sumOver(
              (limit) => limit.kind === "aircraft" && isHere(limit) && types[limit.of]!.id === change.typeId,
            );
          case "addTender":
            return sumOver(
              (limit) =>
                limit.kind === "tender" && isHere(limit) && operation.fleet.tenders[limit.of]!.id === change.like,
            );
          case "addCharger":
            return sumOver((limit) => limit.kind === "charger" && isHere(limit));
          case "changeCrew":
            return minutesPerHour * sumOver((limit) => limit.kind === "dutyMin" && crews[limit.of]!.id === unit.crewId);
          default:
            return null;
        }
      };
      const atMostCents = most();
      return atMostCents === null ? [] : [{ unit, atMostCents, cents: null }];
    })
    .sort((a, b) => b.atMostCents - a.atMostCents);
}
