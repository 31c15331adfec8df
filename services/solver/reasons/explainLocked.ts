import type { Obstacle } from "../../../shared/plan/plan.ts";
import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { explainLock } from "../whyLocksBreak.ts";
import { type BesideWeek, blockingStops } from "./beside.ts";
import { becauseOf, type Reason } from "./reason.ts";

/** Why a block is not planned that is locked to a crew-day: what keeps it out there alone, or the other locks that do; null when it is not locked. */
export function explainLocked(
  problem: Problem,
  state: State,
  week: BesideWeek,
  block: number,
  alone: Reason | null,
): Reason | null {
  const lock = explainLock(problem, block);
  if (lock === null) return null;
  if (alone?.because !== undefined) return { ...lock, because: alone.because };
  const { locks, orders } = problem;
  const own = problem.blocks[block]!.order;
  const others = [...new Set(locks.slots.flatMap(({ blocks }) => blocks))].filter(
    (other) => state.slotOf[other]! >= 0 && problem.blocks[other]!.order !== own,
  );
  const groups = [...new Set(others.map((other) => problem.blocks[other]!.order))];
  const { sets, isAll } = blockingStops(
    problem,
    state,
    week,
    block,
    groups.map((order) => others.filter((other) => problem.blocks[other]!.order === order)),
  );
  if (sets.length === 0) return lock;
  const told = sets.map((set) => [
    lockOf(problem, block),
    ...set.map((at): Obstacle => {
      const other = others.find((one) => problem.blocks[one]!.order === groups[at]!)!;
      return { ...lockOf(problem, other), orderId: orders[groups[at]!]!.order.id };
    }),
  ]);
  const because = becauseOf(told, !isAll);
  const beside = because.sets[0]!.slice(1).map(({ sentence }) => sentence);
  return { ...lock, sentence: `${lock.sentence}; ${beside.join("; ")}`, because };
}

function lockOf({ locks, slots, crews, calendar, blocks, orders }: Problem, block: number): Obstacle {
  const slot = locks.slotOf[block]!;
  const startMin = locks.startMin[block]!;
  const { crew, day } = slots[slot]!;
  const [crewId, date] = [crews[crew]!.id, calendar.dates[day]!];
  const at = startMin < 0 ? "" : ` at ${calendar.clockOfMin(startMin)}`;
  return {
    limit: "locked",
    sentence: `${orders[blocks[block]!.order]!.order.id} is locked to ${crews[crew]!.name} on ${date}${at}`,
    data: { crewId, date, ...(startMin < 0 ? {} : { startMin }) },
  };
}
