import { boundApplies } from "../../../services/solver/bound/boundApplies.ts";
import { boundOf } from "../../../services/solver/bound/boundOf.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import { planTours, toursOf } from "../../../services/solver/outside/planTours.ts";
import {
  type Before,
  type Prepared,
  planFromSnapshot,
  prepareOperation,
  startOf,
} from "../../../services/solver/planOperation.ts";
import { polishWith } from "../../../services/solver/polish.ts";
import { createRandom } from "../../../services/solver/random.ts";
import type { State } from "../../../services/solver/routes.ts";
import { fillShelf, snapshotOf, stateFrom } from "../../../services/solver/snapshot.ts";
import { type Exchange, solve } from "../../../services/solver/solve.ts";
import { totalCents } from "../../../services/solver/state.ts";
import { toPlan } from "../../../services/solver/toPlan.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { scorePartNames } from "../../../shared/plan/scoreParts.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { anyOperation, brokenDown, lockedWith, someLocks, windier } from "../../support/allTogether.ts";

/** Half a cent for each part of the score. */
const roundingCents = scorePartNames.length / 2;
const origin = (iterations: number) => ({ seed: 1, iterations });

export interface Together {
  readonly faults: string[];
  /** What of all that was built the plan has, by count or cents. */
  readonly has: Readonly<
    Record<"locks" | "broken" | "twoKinds" | "pauses" | "lodging" | "change" | "risk" | "bound", number>
  >;
  /** Where it is no fault that tours or a start come out otherwise. */
  readonly remarks: string[];
}

/** Everything that may be asked of a plan, asked of one with all that was built, by chance; what does not hold. */
export function judgeTogether(seed: number, iterations: number, linear: LinearSolver): Together {
  const faults: string[] = [];
  const remarks: string[] = [];
  let boundCents = 0;
  const random = createRandom(seed + 1000);
  const first = anyOperation(seed);
  const searched = (
    prepared: Prepared,
    most: number,
    start: State | undefined,
    by = seed,
    exchange?: Exchange,
  ): State =>
    solve(
      prepared.problem.routes,
      {
        random: createRandom(by),
        doneShare: (done) => done / most,
        polish: polishWith(linear, undefined),
        ...(exchange && { exchange }),
      },
      start,
    ).state;

  const prepared = prepareOperation(first);
  const plan = planOf(prepared, searched(prepared, iterations, undefined), iterations);
  judgePlan("first", first, plan);

  const isPublished = random() < 0.5;
  const before: Before = isPublished ? { published: plan } : { from: plan };
  const locks = random() < 0.7 ? someLocks(first, plan, random) : [];
  const blown = random() < 0.6 ? windier(first, 1 + 0.3 * random()) : first;
  const turned = random() < 0.2 ? brokenDown(blown, plan, random) : blown;
  const operation = lockedWith(turned, locks);
  const again = prepareOperation(operation, before.published);
  const start = startOf(again, before);
  const startCents = start === undefined ? Number.POSITIVE_INFINITY : totalCents(start);
  const state = searched(again, iterations, start);
  if (totalCents(state) > startCents + 1e-6)
    faults.push(`costs more than its start: ${totalCents(state)} ${startCents}`);
  const found = planOf(again, state, iterations);
  judgePlan("again", operation, found);
  if (!isPublished && locks.length === 0 && turned === first && startCents > plan.score.totalCents + roundingCents)
    remarks.push(`start ${startCents} from ${plan.score.totalCents}, shared ${shareFields(first, plan)}`);

  const asIs = toPlan(again.problem, state, [], origin(iterations));
  if (Math.abs(asIs.score.totalCents - totalCents(state)) > roundingCents)
    faults.push(`search says ${totalCents(state)} cents, score ${asIs.score.totalCents}`);

  if (turned === first && found.brokenLocks !== undefined)
    faults.push(`what the plan itself has does not hold: ${JSON.stringify(found.brokenLocks)}`);

  // Elsewhere outfits are numbered otherwise.
  const there = prepareOperation(operation, before.published);
  startOf(there, before);
  searched(there, 5, undefined, seed + 99);
  const snapshot = structuredClone(snapshotOf(again.problem, state));
  const restored = stateFrom(there.problem, snapshot);
  if (totalCents(restored) !== totalCents(state)) faults.push(`restored: ${totalCents(restored)} ${totalCents(state)}`);
  const planThere = planFromSnapshot(there, snapshot, origin(iterations), null);
  if (JSON.stringify(planThere) !== JSON.stringify(found)) faults.push("a plan handed over is another");

  // A search on the same problem takes the plan over half way, or goes on from what it has where that costs less.
  const other = prepareOperation(operation, before.published);
  let heard = false;
  const exchange: Exchange = {
    offer: () => undefined,
    hear(into) {
      if (heard) return false;
      heard = true;
      fillShelf(other.problem, snapshot, into);
      return true;
    },
    take(into, cents, share) {
      if (share < 0.4 || snapshot.totalCents >= cents) return false;
      fillShelf(other.problem, snapshot, into);
      return true;
    },
  };
  const took = searched(other, iterations, startOf(other, before), seed + 7, exchange);
  if (totalCents(took) > totalCents(state) + 1e-6)
    faults.push(`after taking over ${totalCents(state)} it costs ${totalCents(took)}`);
  judgePlan("taken over", operation, planOf(other, took, iterations));

  const twin = prepareOperation(operation, before.published);
  const same = planOf(twin, searched(twin, iterations, startOf(twin, before)), iterations);
  if (JSON.stringify(same) !== JSON.stringify(found)) faults.push("the same seed gives another plan");

  if (boundApplies(again.problem) === null) {
    let asked = 0;
    const bound = boundOf(twin.problem, { solver: linear, known: () => [], shouldStop: () => asked++ >= 80 });
    if (bound.cents !== null && bound.cents > found.score.totalCents)
      faults.push(`bound ${bound.cents} by ${bound.method} above ${found.score.totalCents}`);
    boundCents = bound.cents ?? 0;
  }

  const tours = planTours(operation, toursOf(found));
  if (!tours.ok) faults.push(`tours: ${JSON.stringify(tours.faults)}`);
  else {
    judgePlan("tours", operation, tours.plan);
    const withoutChanges = found.score.totalCents - (found.score.changeCents ?? 0);
    const stopped = tours.runs.flatMap((run) => run.stopped ?? []);
    if (stopped.length > 0) remarks.push(`tours stopped: ${stopped.map(({ reason }) => reason).join("; ")}`);
    else if (!shareFields(operation, found) && Math.abs(tours.plan.score.totalCents - withoutChanges) > roundingCents)
      faults.push(`tours cost ${tours.plan.score.totalCents}, the plan ${withoutChanges}`);
  }
  const { score, crewDays } = found;
  const typeOf = new Map(operation.fleet.aircraft.map(({ id, typeId }) => [id, typeId]));
  const has = {
    locks: locks.length,
    broken: found.brokenLocks?.length ?? 0,
    twoKinds: crewDays.filter(({ outfit }) => new Set(outfit.aircraftIds.map((id) => typeOf.get(id))).size > 1).length,
    pauses: crewDays.flatMap(worksOf).filter(({ pauses }) => pauses !== undefined).length,
    lodging: score.lodgingCents ?? 0,
    change: score.changeCents ?? 0,
    risk: score.riskCents ?? 0,
    bound: boundCents,
  };
  return { faults, has, remarks };

  function judgePlan(name: string, of: Operation, its: Plan): void {
    const { breaches } = checkPlan(of, its);
    if (breaches.length > 0) faults.push(`${name}: ${breaches.map((breach) => JSON.stringify(breach)).join("; ")}`);
  }
}

function planOf(prepared: Prepared, state: State, iterations: number): Plan {
  return planFromSnapshot(prepared, snapshotOf(prepared.problem, state), origin(iterations), null);
}

/** Whether two crews work on a field on one day: tours do not say who goes first there. */
function shareFields({ orders }: Operation, { blocks, crewDays }: Plan): boolean {
  const fieldOfOrder = new Map(orders.map(({ id, fieldId }) => [id, fieldId]));
  const fieldOf = new Map(blocks.map(({ id, orderId }) => [id, fieldOfOrder.get(orderId)]));
  const crewOf = new Map<string, string>();
  return crewDays.some((day) =>
    worksOf(day).some(({ blockId }) => {
      const key = `${day.date} ${fieldOf.get(blockId)}`;
      const other = crewOf.get(key) ?? day.crewId;
      crewOf.set(key, day.crewId);
      return other !== day.crewId;
    }),
  );
}
