import type { OrderId } from "../../../shared/model/quantities.ts";
import type { Conflict, Plan } from "../../../shared/plan/plan.ts";
import { groupBy } from "../../../shared/plan/totals.ts";
import { explainConflicts } from "../explain.ts";
import type { Prepared } from "../planOperation.ts";
import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { crewDayWords, type PushedOut } from "./applyMove.ts";

/** Blocks that moves have left without a place, by block: where they were, and why. */
export interface LeftByMoves {
  /** Taken out on purpose; the slot where they were. */
  readonly takenOut: ReadonlyMap<number, number>;
  readonly pushedOut: readonly PushedOut[];
}

/** The conflicts that a plan had, without what is planned now and with what is not any more. Quick: reasons of what was left out before stay as they were found. */
export function conflictsKept(problem: Problem, plan: Plan, state: State, moved: LeftByMoves): Conflict[] {
  const told = withoutBlocks(problem, plan.conflicts, (block) => state.slotOf[block]! >= 0);
  const known = new Set<string>(told.flatMap(({ blockIds }) => blockIds));
  const isNew = (block: number) => state.slotOf[block]! < 0 && !known.has(problem.blocks[block]!.block.id);
  return [
    ...told,
    ...byHand(
      problem,
      [...moved.takenOut].filter(([block]) => isNew(block)),
    ),
    ...moved.pushedOut
      .filter(({ block }) => isNew(block) && !moved.takenOut.has(block))
      .map(
        ({ block, slot, sentence }): Conflict => ({
          ...ofBlocks(problem, [block]),
          kind: "notEnoughHours",
          sentence: `pushed out of ${crewDayWords(problem, slot)} by hand: ${sentence}`,
          evidence: crewDayOf(problem, slot),
        }),
      ),
  ];
}

/** Every reason found afresh, but for what was taken out by hand, now or before. */
export function conflictsAfresh(prepared: Prepared, plan: Plan, state: State, moved: LeftByMoves): Conflict[] {
  const { problem, agronomy } = prepared;
  const isPlanned = (block: number) => state.slotOf[block]! >= 0;
  const before = withoutBlocks(
    problem,
    plan.conflicts.filter(({ kind }) => kind === "byHand"),
    isPlanned,
  );
  const known = new Set<string>(before.flatMap(({ blockIds }) => blockIds));
  const now = [...moved.takenOut].filter(([block]) => !isPlanned(block));
  const afresh = withoutBlocks(
    problem,
    explainConflicts(problem, agronomy, state),
    (block) => known.has(problem.blocks[block]!.block.id) || now.some(([one]) => one === block),
  );
  return [...afresh, ...before, ...byHand(problem, now)];
}

function withoutBlocks(
  problem: Problem,
  conflicts: readonly Conflict[],
  isGone: (block: number) => boolean,
): Conflict[] {
  const indexOf = new Map<string, number>(problem.blocks.map(({ block }, index) => [block.id, index]));
  return conflicts.flatMap((conflict): Conflict[] => {
    const blocks = conflict.blockIds.map((id) => indexOf.get(id)!);
    const left = blocks.filter((block) => !isGone(block));
    if (left.length === blocks.length) return [conflict];
    return left.length === 0 ? [] : [{ ...conflict, ...ofBlocks(problem, left) }];
  });
}

function byHand(problem: Problem, taken: readonly (readonly [block: number, slot: number])[]): Conflict[] {
  const ofDay = groupBy(taken, ([block, slot]) => `${problem.blocks[block]!.order} ${slot}`);
  return [...ofDay.values()].map((entries): Conflict => {
    const slot = entries[0]![1];
    return {
      ...ofBlocks(
        problem,
        entries.map(([block]) => block),
      ),
      kind: "byHand",
      sentence: `taken out of ${crewDayWords(problem, slot)} by hand`,
      evidence: crewDayOf(problem, slot),
    };
  });
}

/** Of one order. */
function ofBlocks({ blocks }: Problem, own: readonly number[]): Pick<Conflict, "orderId" | "blockIds" | "areaHa"> {
  return {
    orderId: blocks[own[0]!]!.block.orderId as OrderId,
    blockIds: own.map((block) => blocks[block]!.block.id),
    areaHa: own.reduce((sum, block) => sum + blocks[block]!.areaHa, 0),
  };
}

function crewDayOf({ slots, crews, calendar }: Problem, slot: number) {
  const { crew, day } = slots[slot]!;
  return { crewDay: { crewId: crews[crew]!.id, date: calendar.dates[day]! } };
}
