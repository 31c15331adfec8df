import type { Move, MoveAnswer } from "../../../shared/contracts/moves.ts";
import { lockSchema } from "../../../shared/model/locks.ts";
import type { CrewDay, Plan } from "../../../shared/plan/plan.ts";
import { proofOf } from "../../../shared/plan/proof.ts";
import { scorePlan } from "../../../shared/plan/score.ts";
import { asSentence } from "../../../shared/replan/whyChanged.ts";
import { anySlot } from "../locks.ts";
import { settleAllNights } from "../nights.ts";
import type { Prepared } from "../planOperation.ts";
import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { createDayRun } from "../state.ts";
import { toPlan } from "../toPlan.ts";
import { applyMove, type PushedOut } from "./applyMove.ts";
import { conflictsAfresh, conflictsKept } from "./conflictsAfter.ts";
import { crewDayKey, prepareFor, type Standing, standAgain, stateOf } from "./standing.ts";

export type Moved =
  | {
      readonly goes: true;
      readonly plan: Plan;
      readonly leftOut: MoveAnswer["leftOut"];
      /** Crew-days that are otherwise than before, those that are gone too. */
      readonly touched: readonly Pick<CrewDay, "crewId" | "date">[];
    }
  | { readonly goes: false; readonly sentence: string };

/**
 * A plan with moves made one after the other: crew-days that they do not touch are the plan's own, the others keep what they had as far as it still runs. `isKept`: with the reasons of what is
 * not planned found afresh, as for a plan that stays. The checker's verdict is the caller's to ask for.
 */
export function movePlan(standing: Standing, moves: readonly Move[], isKept: boolean): Moved {
  const { plan, unmoved } = standing;
  const { locks } = standing.prepared.problem;
  const { prepared, state } = atTheirMinutes(standing, moves);
  if (state === null) return { goes: false, sentence: changedRules };
  const { problem } = prepared;
  const run = createDayRun(problem.routes.stride);
  const before = standing.prepared.problem === problem ? state.slotOf.slice() : standAgain(standing).slotOf;
  const pushedOut: PushedOut[] = [];
  for (const move of moves) {
    const applied = applyMove(problem, locks, state, run, move);
    if (!applied.goes) return applied;
    pushedOut.push(...applied.pushedOut);
  }
  pushedOut.push(...comeHome(problem, state));
  const still = pushedOut.filter(({ block }) => state.slotOf[block]! < 0);
  const lost = still.find(({ block }) => locks.slotOf[block] !== anySlot);
  if (lost !== undefined) {
    return {
      goes: false,
      sentence: `${problem.blocks[lost.block]!.block.id} is locked and would no longer fit: ${lost.sentence}.`,
    };
  }

  const late = moves.find(
    ({ blockId, to }) => to?.startAt !== undefined && !beginsAt(problem, state, blockId, to.startAt),
  );
  if (late !== undefined) return { goes: false, sentence: `${late.blockId} is locked to begin at another minute.` };

  const taken = moves.filter(({ to }) => to === null).map(({ blockId }) => blockId as string);
  const takenOut = new Map(
    [...before].flatMap((slot, block) =>
      slot >= 0 && taken.includes(problem.blocks[block]!.block.id) ? [[block, slot] as const] : [],
    ),
  );
  const left = { takenOut, pushedOut: still };
  const conflicts = isKept ? conflictsAfresh(prepared, plan, state, left) : conflictsKept(problem, plan, state, left);
  const made = toPlan(problem, state, conflicts, plan);
  const isTouched = (crewDay: CrewDay) => unmoved.get(crewDayKey(crewDay)) !== JSON.stringify(crewDay);
  const own = new Map(plan.crewDays.map((crewDay) => [crewDayKey(crewDay), crewDay]));
  const crewDays = made.crewDays.map((crewDay) => (isTouched(crewDay) ? crewDay : own.get(crewDayKey(crewDay))!));
  const goOut = new Set(crewDays.map(crewDayKey));
  return {
    goes: true,
    plan: scored(standing, { ...made, crewDays }),
    leftOut: still.map(({ block, slot, sentence }) => ({
      blockId: problem.blocks[block]!.block.id,
      crewId: problem.crews[problem.slots[slot]!.crew]!.id,
      date: problem.calendar.dates[problem.slots[slot]!.day]!,
      sentence: asSentence(sentence),
    })),
    touched: [
      ...made.crewDays.filter(isTouched),
      ...plan.crewDays.filter((crewDay) => !goOut.has(crewDayKey(crewDay))),
    ],
  };
}

export const changedRules =
  "This plan does not stand any more by the rules that the planner has now; plan again, then move.";

/** Where a move names a minute, the operation is compiled with that minute locked, for then its windows begin there; else the plan stands as it is kept. */
function atTheirMinutes(standing: Standing, moves: readonly Move[]): { prepared: Prepared; state: State | null } {
  const { plan, prepared } = standing;
  const { operation } = prepared.problem;
  const timed = moves.flatMap(({ blockId, to }) => {
    const block = plan.blocks.find(({ id }) => id === blockId);
    if (block === undefined || to?.startAt === undefined) return [];
    const { orderId, part, parts } = block;
    const stop = { orderId, part, parts, startAt: to.startAt };
    return [{ blockId, lock: lockSchema.parse({ crewId: to.crewId, date: to.date, stops: [stop] }) }];
  });
  if (timed.length === 0) return { prepared, state: standAgain(standing) };
  const { agronomy, problem } = prepared;
  // Before the dispatcher's own: of two for one day the later counts where they differ.
  const locks = [...timed.map(({ lock }) => lock), ...operation.locks];
  const own = prepareFor({ ...operation, locks }, plan, agronomy, problem);
  return { prepared: own, state: stateOf(own.problem, plan, new Set(timed.map(({ blockId }) => blockId))) };
}

function beginsAt({ blocks, calendar }: Problem, state: State, blockId: string, startAt: string): boolean {
  const block = blocks.findIndex((one) => one.block.id === blockId);
  return state.startMin[block] === calendar.minOfLocal(startAt);
}

/** Crews that sleep away only between two days of work with the same things come home where a move has ended that. */
function comeHome(problem: Problem, state: State): PushedOut[] {
  const before = state.slotOf.slice();
  settleAllNights(state, createDayRun(problem.routes.stride));
  return [...before].flatMap((slot, block): PushedOut[] =>
    slot >= 0 && state.slotOf[block]! < 0
      ? [{ block, slot, sentence: "its crew no longer sleeps away, and from home it does not fit" }]
      : [],
  );
}

function scored({ plan, prepared }: Standing, made: Plan): Plan {
  const { operation } = prepared.problem;
  const moved = { ...made, score: scorePlan(operation, made) };
  if (plan.proof === undefined) return moved;
  const { gapFrac: _, ...bound } = plan.proof;
  const proof = proofOf(bound, moved.score.totalCents);
  return proof === null ? moved : { ...moved, proof };
}
