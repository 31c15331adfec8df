import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import type { Move, MoveJudgement } from "../../shared/contracts/moves.ts";
import type { Lock } from "../../shared/model/locks.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { checkLocksSince } from "../../shared/plan/check/locksSince.ts";
import type { CrewDay, Plan } from "../../shared/plan/plan.ts";
import { indexPlan } from "../../shared/plan/planIndex.ts";
import { scorePartNames, scorePartWords } from "../../shared/plan/scoreParts.ts";
import { crewDayView } from "../../shared/plan/weekView.ts";
import { changedRules, movePlan } from "../solver/moves/movePlan.ts";
import type { Standing } from "../solver/moves/standing.ts";
import type { Judged } from "./messages.ts";

/** Our choice: so many of the checker's sentences are told as reasons. */
const mostTold = 5;

/** The plan that moves come to, judged as a whole by the checker, and by what is locked by now. */
export function judgeMoves(
  standing: Standing,
  moves: readonly Move[],
  isKept: boolean,
  locksNow: readonly Lock[] | undefined,
): Judged {
  const moved = movePlan(standing, moves, isKept);
  if (!moved.goes) return { judgement: refusal(standing.plan, moved.sentence), kept: null };
  const { plan, leftOut, touched } = moved;
  const report = checkPlan(standing.prepared.problem.operation, plan);
  const breaches = [...report.breaches, ...newlyUnlocked(standing, plan, locksNow)];
  const allowed = breaches.length === 0;
  const before = standing.plan.score;
  const judgement: MoveJudgement = {
    allowed,
    why: breaches.slice(0, mostTold).map(({ sentence }) => sentence),
    breaches: breaches.map((breach) => ({ ...breach })),
    leftOut,
    before: totalsOf(standing.plan),
    after: totalsOf(plan),
    costCents: plan.score.totalCents - before.totalCents,
    parts: scorePartNames.flatMap((part) => {
      const cents = (plan.score[part] ?? 0) - (before[part] ?? 0);
      return cents === 0 ? [] : [{ part, words: scorePartWords[part], cents }];
    }),
    crewDays: crewDaysOf(standing, plan, touched),
  };
  return { judgement, kept: isKept && allowed ? { plan, report } : null };
}

/** A plan that breaks a lock already may be mended by moves, one after the other. */
function newlyUnlocked({ prepared, plan }: Standing, moved: Plan, locksNow: readonly Lock[] | undefined) {
  if (locksNow === undefined) return [];
  const { operation } = prepared.problem;
  const before = new Set(checkLocksSince(operation, locksNow, plan).map(({ sentence }) => sentence));
  return checkLocksSince(operation, locksNow, moved).filter(({ sentence }) => !before.has(sentence));
}

export const refusedPlan = (plan: Plan): Judged => ({ judgement: refusal(plan, changedRules), kept: null });

function refusal(plan: Plan, sentence: string): MoveJudgement {
  return {
    allowed: false,
    why: [sentence],
    breaches: [],
    leftOut: [],
    before: totalsOf(plan),
    after: null,
    costCents: null,
    parts: [],
    crewDays: [],
  };
}

function totalsOf({ score: { totalCents, servedHa, orderedHa, roadKm, dutyMin } }: Plan): MoveJudgement["before"] {
  return { totalCents, servedHa, orderedHa, roadKm, dutyMin };
}

function crewDaysOf(
  { prepared: { problem } }: Standing,
  plan: Plan,
  touched: readonly Pick<CrewDay, "crewId" | "date">[],
): MoveJudgement["crewDays"] {
  const { operation } = problem;
  const index = indexPlan(operation, plan);
  const agronomy = createAgronomy(operation, index.calendar);
  return touched.map(({ crewId, date }) => {
    const crewDay = plan.crewDays.find((one) => one.crewId === crewId && one.date === date);
    return {
      crewId,
      date,
      crewDay: crewDay === undefined ? null : { ...crewDayView(index, () => agronomy, crewDay) },
    };
  });
}
