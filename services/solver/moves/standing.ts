import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { CrewDay, Plan } from "../../../shared/plan/plan.ts";
import { compileProblem } from "../compile.ts";
import { holdLocks } from "../holdLocks.ts";
import { sameShare } from "../keptCut.ts";
import type { Prepared } from "../planOperation.ts";
import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { type Snapshot, snapshotOf, stateFrom } from "../snapshot.ts";
import { startFrom } from "../startFrom.ts";
import { toPlan } from "../toPlan.ts";

/** A plan as moves begin from it. */
export interface Standing {
  readonly plan: Plan;
  readonly prepared: Prepared;
  readonly snapshot: Snapshot;
  /** What becomes of its crew-days when nothing is moved, by crew and date: the plan's own, unless another release made it. */
  readonly unmoved: ReadonlyMap<string, string>;
}

export const crewDayKey = ({ crewId, date }: Pick<CrewDay, "crewId" | "date">) => `${crewId} ${date}`;

/** The operation compiled as the plan was: cut as the plan has it, which may be as a published one had it, and with the published stops that its changes are counted against. */
export function prepareFor(
  operation: Operation,
  plan: Plan,
  agronomy: Prepared["agronomy"],
  cutAs?: Problem,
): Prepared {
  const calendar = createCalendar(operation.settings);
  const problem = compileProblem(operation, calendar, agronomy, plan.published ?? null, cutAs ?? null, plan.blocks);
  return { problem, agronomy, held: holdLocks(problem) };
}

/** Null where the plan does not stand any more by today's rules, or its orders are cut otherwise today: then it has to be planned again. */
export function standingOf(prepared: Prepared, plan: Plan): Standing | null {
  const { problem } = prepared;
  const state = stateOf(problem, plan);
  if (state === null || !isCutAlike(problem, plan)) return null;
  const unmoved = toPlan(problem, state, [], plan).crewDays;
  return {
    plan,
    prepared,
    snapshot: snapshotOf(problem, state),
    unmoved: new Map(unmoved.map((crewDay) => [crewDayKey(crewDay), JSON.stringify(crewDay)])),
  };
}

/** `except`: blocks that may fall out, because they are moved anyway. */
export function stateOf(problem: Problem, plan: Plan, except: ReadonlySet<string> = new Set()): State | null {
  const { state, left } = startFrom(problem, plan);
  return left.every(({ blockId }) => except.has(blockId)) ? state : null;
}

export const standAgain = ({ prepared, snapshot }: Standing): State => stateFrom(prepared.problem, snapshot);

function isCutAlike({ blocks }: Problem, plan: Plan): boolean {
  return (
    blocks.length === plan.blocks.length &&
    blocks.every(({ block: { id, areaHa } }, at) => {
      const before = plan.blocks[at]!;
      return id === before.id && Math.abs(areaHa - before.areaHa) <= sameShare * areaHa;
    })
  );
}
